"""Parcels without their plan, for lists: the plan of three weeks is by far the largest column."""

from types import SimpleNamespace
from typing import Any

from sqlalchemy import select

from exchange.records.books import Tx
from exchange.records.shelf import plain, reader
from exchange.records.tables import ParcelTable
from exchange.records.values import ParcelEntry

_read = reader(ParcelEntry)
_COLUMNS = [column for column in ParcelTable.__table__.columns if column.name != "plan"]


def heads(tx: Tx, circle_id: int, **where: Any) -> tuple[ParcelEntry, ...]:
    """Give parcels with an empty plan (a set: is one of; else: equals), in order of their id."""
    query = select(*_COLUMNS).where(ParcelTable.circle_id == circle_id)
    for name, wanted in where.items():
        column = getattr(ParcelTable, name)
        if isinstance(wanted, set | frozenset):
            query = query.where(column.in_([plain(one) for one in wanted]))
        else:
            query = query.where(column == plain(wanted))
    rows = tx.execute(query.order_by(ParcelTable.id)).mappings()
    return tuple(_read(SimpleNamespace(**row, plan={})) for row in rows)
