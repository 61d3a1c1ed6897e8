"""What a row, its changes and its lookups name is a column of its noun's table."""

import ast
import inspect
from operator import attrgetter
from typing import get_args, get_type_hints

import pytest

from exchange.records import repositories
from exchange.records.columns import names_of
from exchange.records.repository import Repository


def of_each_noun():
    """Give the arguments of each repository by its name: table, row, change and where."""
    for node in ast.parse(inspect.getsource(repositories)).body:
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Call):
            wanted = [ast.unparse(one) for one in node.value.args]
            yield pytest.param(
                *(attrgetter(one)(repositories) for one in wanted), id=ast.unparse(node.targets[0])
            )


NOUNS = list(of_each_noun())


def test_every_repository_is_looked_at():
    there = [name for name, one in vars(repositories).items() if isinstance(one, Repository)]

    assert sorted(there) == sorted(noun.id for noun in NOUNS)


@pytest.mark.parametrize(("table", "row", "change", "where"), NOUNS)
def test_a_field_of_a_row_is_a_column_that_may_be_empty_where_the_field_may(
    table, row, change, where
):
    columns, hints = table.__table__.columns, get_type_hints(row)

    assert set(names_of(row)) <= set(columns.keys())
    assert {name for name in names_of(row) if columns[name].nullable} == {
        name for name in names_of(row) if type(None) in get_args(hints[name])
    }


@pytest.mark.parametrize(("table", "row", "change", "where"), NOUNS)
def test_what_is_changed_and_asked_by_is_a_column(table, row, change, where):
    named = {*get_type_hints(change), *get_type_hints(where)}

    assert named <= set(table.__table__.columns.keys())
