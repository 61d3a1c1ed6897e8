"""Letters waiting to be sent; each key is written once."""

from datetime import datetime

from sqlalchemy import or_, select

from exchange.records.columns import reader
from exchange.records.rows.running import LetterRow, LetterState
from exchange.records.tables import LetterTable
from exchange.records.transaction import Tx

_read = reader(LetterRow)
MOST_TRIES = 8


def with_key(tx: Tx, key: str) -> LetterRow | None:
    row = tx._session.scalars(select(LetterTable).where(LetterTable.key == key)).one_or_none()
    return None if row is None else _read(row)


def due(tx: Tx, now: datetime, most: int) -> tuple[LetterRow, ...]:
    query = (
        select(LetterTable)
        .where(
            LetterTable.state == LetterState.WAITING,
            LetterTable.tries < MOST_TRIES,
            or_(LetterTable.not_before.is_(None), LetterTable.not_before <= now),
        )
        .order_by(LetterTable.id)
        .limit(most)
        .with_for_update(skip_locked=True)
    )
    return tuple(_read(row) for row in tx._session.scalars(query))
