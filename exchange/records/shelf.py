"""Reading and writing the rows of one noun; rows leave as frozen dataclasses."""

import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from enum import Enum
from typing import Any, Generic, TypeVar, Union, get_args, get_origin, get_type_hints

from sqlalchemy import select, update

from exchange.records.books import Tx
from exchange.records.tables import CircleTable
from exchange.records.tables.base import Base

Row = TypeVar("Row", bound=Base)
Value = TypeVar("Value")


class NotHereError(LookupError):
    """There is no such row in this circle."""


def reader(value_class: type[Value]) -> Callable[[Any], Value]:
    """Give the function that makes a frozen dataclass from a row's columns of the same names."""
    hints = get_type_hints(value_class)
    names = [field.name for field in fields(value_class)]  # type: ignore[arg-type]  # a dataclass
    turn = {name: _converter(hints[name]) for name in names}

    def read(row: Any) -> Value:
        return value_class(**{name: turn[name](getattr(row, name)) for name in names})

    return read


def _converter(hint: Any) -> Callable[[Any], Any]:
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        inner = _converter(next(one for one in arguments if one is not type(None)))
        return lambda raw: None if raw is None else inner(raw)
    if origin in (frozenset, tuple):
        inner = _converter(arguments[0])
        build = origin
        return lambda raw: build(inner(one) for one in raw)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    return lambda raw: raw


def plain(value: Any) -> Any:
    """Turn a value of the craft into what a column holds."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, frozenset):
        return sorted(plain(one) for one in value)
    if isinstance(value, tuple):
        return [plain(one) for one in value]
    return value


def touch(tx: Tx, circle_id: int) -> None:
    """Note that the facts of a circle have changed."""
    tx.execute(
        update(CircleTable)
        .where(CircleTable.id == circle_id)
        .values(stamp=CircleTable.stamp + 1)
        .execution_options(synchronize_session=False)
    )


@dataclass(frozen=True)
class Shelf(Generic[Row, Value]):
    """The rows of one noun in any circle.

    Attributes
    ----------
    sorts : columns by which rows are given out; the id is always the last
    facts : whether a change makes an older plan or share-out stale
    """

    table: type[Row]
    read: Callable[[Row], Value]
    noun: str
    sorts: tuple[str, ...] = ()
    facts: bool = False

    def add(self, tx: Tx, circle_id: int, **columns: Any) -> int:
        row = self.table(
            circle_id=circle_id, **{name: plain(value) for name, value in columns.items()}
        )
        tx.add(row)
        tx.flush()
        if self.facts:
            touch(tx, circle_id)
        return row.id

    def find(self, tx: Tx, circle_id: int, **where: Any) -> Value | None:
        found = self.all(tx, circle_id, **where)
        return found[0] if found else None

    def get(self, tx: Tx, circle_id: int, row_id: int) -> Value:
        return self.read(self._row(tx, circle_id, row_id))

    def all(self, tx: Tx, circle_id: int, **where: Any) -> tuple[Value, ...]:
        """Give the rows whose columns equal the given values (None: is empty; a set: is one of)."""
        query = select(self.table).where(self.column("circle_id") == circle_id)
        for name, wanted in where.items():
            column = self.column(name)
            if isinstance(wanted, set | frozenset | list | tuple):
                query = query.where(column.in_([plain(one) for one in wanted]))
            else:
                query = query.where(column.is_(None) if wanted is None else column == plain(wanted))
        query = query.order_by(*(self.column(name) for name in self.sorts), self.column("id"))
        return tuple(self.read(row) for row in tx.scalars(query))

    def by_id(self, tx: Tx, circle_id: int, **where: Any) -> Mapping[int, Value]:
        return {value.id: value for value in self.all(tx, circle_id, **where)}  # type: ignore[attr-defined]  # every value has its row's id

    def change(self, tx: Tx, circle_id: int, row_id: int, **columns: Any) -> None:
        row = self._row(tx, circle_id, row_id)
        changed = False
        for name, value in columns.items():
            wanted = plain(value)
            if getattr(row, name) != wanted:
                setattr(row, name, wanted)
                changed = True
        tx.flush()
        if changed and self.facts:
            touch(tx, circle_id)

    def remove(self, tx: Tx, circle_id: int, row_id: int) -> None:
        tx.delete(self._row(tx, circle_id, row_id))
        tx.flush()
        if self.facts:
            touch(tx, circle_id)

    def column(self, name: str) -> Any:
        return getattr(self.table, name)

    def _row(self, tx: Tx, circle_id: int, row_id: int) -> Row:
        query = select(self.table).where(
            self.column("id") == row_id, self.column("circle_id") == circle_id
        )
        row = tx.scalars(query).one_or_none()
        if row is None:
            raise NotHereError(f"there is no {self.noun} {row_id} in this circle")
        return row
