"""Migrations: numbered in order, on both databases, to the very shape the tables have."""

import re

import pytest
from sqlalchemy import inspect, text

from exchange.records import circles
from exchange.records.transaction import Books
from exchange.records.upgrade import MIGRATIONS, differences, newest, revision, upgrade
from tests.app_fixtures import a_house, both_databases, fresh_database, ring


@pytest.fixture(params=both_databases)
def empty(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address:
        books = Books(address)
        yield books
        books.close()


def test_an_empty_database_is_brought_to_the_shape_of_the_tables(empty):
    assert revision(empty) is None

    upgrade(empty)

    assert revision(empty) == newest()
    assert differences(empty) == []


def test_upgrading_twice_changes_nothing(empty):
    upgrade(empty)
    upgrade(empty)

    assert differences(empty) == []


def test_a_missing_column_is_found(empty):
    upgrade(empty)
    with empty.engine.begin() as connection:
        connection.execute(text("ALTER TABLE variety DROP COLUMN must_not_be_lost_because"))

    (found,) = differences(empty)

    assert "must_not_be_lost_because" in found


def test_the_tables_of_the_queue_are_no_difference(empty):
    upgrade(empty)
    with empty.engine.begin() as connection:
        connection.execute(text("CREATE TABLE huey_kv (key text)"))

    assert differences(empty) == []


@pytest.mark.filterwarnings("ignore:Skipped unsupported reflection of expression-based index")
def test_every_constraint_has_a_name(empty):
    upgrade(empty)
    seen = inspect(empty.engine)
    named = [
        one["name"]
        for table in seen.get_table_names()
        if table != "alembic_version"
        for one in (*seen.get_foreign_keys(table), *seen.get_unique_constraints(table))
    ]

    assert len(named) > 50
    assert all(named)


def test_migrations_are_numbered_in_order():
    names = sorted(path.stem for path in (MIGRATIONS / "versions").glob("[0-9]*.py"))

    assert [name[:4] for name in names] == [f"{n:04d}" for n in range(1, len(names) + 1)]
    assert all(re.fullmatch(r"\d{4}_[a-z0-9_]+", name) for name in names)


def test_records_in_use_survive_an_upgrade(tmp_path):
    with fresh_database("sqlite", tmp_path) as address, a_house(tmp_path, address) as house:
        circle = ring(house)

        upgrade(house.books)

        with house.books.reading() as tx:
            assert circles.get(tx, circle.circle_id).name == "The Lowmoor Circle"
        with house.books.engine.connect() as connection:
            assert connection.execute(text("PRAGMA foreign_keys")).scalar() == 1
