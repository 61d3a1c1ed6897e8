"""Circles: several in one installation, never seeing each other."""

from sqlalchemy import select

from exchange.records.books import Tx
from exchange.records.shelf import NotHereError, reader, touch
from exchange.records.tables import CircleTable
from exchange.records.values import Circle

_read = reader(Circle)
__all__ = ["add", "change", "everyone", "get", "named", "touch"]


def add(tx: Tx, circle: Circle) -> int:
    """Keep a new circle; its id is given by the database, not by the value."""
    row = CircleTable(
        name=circle.name,
        country=circle.country,
        zone=circle.zone,
        about_how_many=circle.about_how_many,
        terms=circle.terms,
        fixed_today=circle.fixed_today,
        created_at=circle.created_at,
    )
    tx.add(row)
    tx.flush()
    return row.id


def get(tx: Tx, circle_id: int) -> Circle:
    row = tx.get(CircleTable, circle_id)
    if row is None:
        raise NotHereError(f"there is no circle {circle_id}")
    return _read(row)


def named(tx: Tx, name: str) -> Circle | None:
    row = tx.scalars(select(CircleTable).where(CircleTable.name == name)).one_or_none()
    return None if row is None else _read(row)


def everyone(tx: Tx) -> tuple[Circle, ...]:
    return tuple(_read(row) for row in tx.scalars(select(CircleTable).order_by(CircleTable.id)))


def change(tx: Tx, circle_id: int, **columns: object) -> None:
    row = tx.get(CircleTable, circle_id)
    if row is None:
        raise NotHereError(f"there is no circle {circle_id}")
    for name, value in columns.items():
        setattr(row, name, value)
    tx.flush()
    touch(tx, circle_id)
