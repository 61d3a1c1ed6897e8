"""The secret addresses of calendars."""

from datetime import datetime

from sqlalchemy import select

from exchange.records.columns import reader
from exchange.records.links import hash_of
from exchange.records.rows.running import CalendarAddressRow
from exchange.records.tables import CalendarTable
from exchange.records.transaction import Tx

LONGEST_BY = 80
"""Most of the program's name that is kept [characters]."""

_read = reader(CalendarAddressRow)


def with_token(tx: Tx, token: str) -> CalendarAddressRow | None:
    """Give the calendar behind a secret address, in whichever circle it is."""
    row = tx._session.scalars(
        select(CalendarTable).where(CalendarTable.sha256 == hash_of(token))
    ).one_or_none()
    return None if row is None else _read(row)


def note_fetch(tx: Tx, address_id: int, by: str, now: datetime) -> None:
    row = tx._session.get_one(CalendarTable, address_id)
    row.last_fetched_at, row.last_fetched_by = now, by[:LONGEST_BY]
