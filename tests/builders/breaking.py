"""For tests that break an act in the middle: a step that fails, and all that the database holds.

before = dump(house.books)
break_at(monkeypatch, "exchange.actions.people.members.note")
with pytest.raises(BrokenError):
    invite(...)
assert dump(house.books) == before
"""

from typing import Any

import pytest
from sqlalchemy import select

from exchange.records import Books
from exchange.records.tables import Base


class BrokenError(Exception):
    """A step that was made to fail; nothing in the house catches it."""


def dump(books: Books) -> dict[str, list[tuple[Any, ...]]]:
    """Give every table's rows in the order of its primary key [table -> rows]."""
    with books.reading() as tx:
        return {
            table.name: [
                tuple(row)
                for row in tx._session.execute(select(table).order_by(*table.primary_key))
            ]
            for table in Base.metadata.sorted_tables
        }


def break_at(monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    """Let a step raise `BrokenError`, whatever it is called with.

    Parameters
    ----------
    step : its dotted name in the module that calls it, which is where the call looks it up
    """

    def broken(*_args: object, **_named: object) -> None:
        raise BrokenError(step)

    monkeypatch.setattr(step, broken)
