"""Circles: several in one installation, never seeing each other."""

from typing import Unpack

from sqlalchemy import select

from exchange.records.columns import names_of, reader
from exchange.records.repository import NotHereError, touch
from exchange.records.rows.circle import CircleChange, CircleColumns, CircleRow
from exchange.records.tables import CircleTable
from exchange.records.transaction import Tx

_read = reader(CircleRow)
__all__ = ["add", "change", "everyone", "get", "named", "touch"]


def add(tx: Tx, **new: Unpack[CircleColumns]) -> int:
    """Keep a new circle."""
    made = CircleRow(0, **new)
    row = CircleTable(**{name: getattr(made, name) for name in names_of(CircleRow) if name != "id"})
    tx._session.add(row)
    tx._session.flush()
    return row.id


def get(tx: Tx, circle_id: int) -> CircleRow:
    row = tx._session.get(CircleTable, circle_id)
    if row is None:
        raise NotHereError(f"there is no circle {circle_id}")
    return _read(row)


def named(tx: Tx, name: str) -> CircleRow | None:
    row = tx._session.scalars(select(CircleTable).where(CircleTable.name == name)).one_or_none()
    return None if row is None else _read(row)


def everyone(tx: Tx) -> tuple[CircleRow, ...]:
    return tuple(
        _read(row) for row in tx._session.scalars(select(CircleTable).order_by(CircleTable.id))
    )


def change(tx: Tx, circle_id: int, **columns: Unpack[CircleChange]) -> None:
    row = tx._session.get(CircleTable, circle_id)
    if row is None:
        raise NotHereError(f"there is no circle {circle_id}")
    for name, value in columns.items():
        setattr(row, name, value)
    tx._session.flush()
    touch(tx, circle_id)
