"""Parcels without their plan, for lists: the plan of three weeks is by far the largest column."""

from types import SimpleNamespace
from typing import Unpack

from sqlalchemy import select

from exchange.records.columns import matches, reader
from exchange.records.rows.posting import ParcelRow, ParcelWhere
from exchange.records.tables import ParcelTable
from exchange.records.transaction import Tx

_read = reader(ParcelRow)
_COLUMNS = [column for column in ParcelTable.__table__.columns if column.name != "plan"]


def heads(tx: Tx, circle_id: int, **where: Unpack[ParcelWhere]) -> tuple[ParcelRow, ...]:
    """Give parcels with an empty plan (a set: is one of; else: equals), in order of their id."""
    query = select(*_COLUMNS).where(ParcelTable.circle_id == circle_id)
    for name, wanted in where.items():
        query = query.where(matches(getattr(ParcelTable, name), wanted))
    rows = tx._session.execute(query.order_by(ParcelTable.id)).mappings()
    return tuple(_read(SimpleNamespace(**row, plan={})) for row in rows)
