"""Letters waiting to be sent; each key is written once."""

from datetime import datetime

from sqlalchemy import or_, select

from exchange.records.books import Tx
from exchange.records.shelf import reader
from exchange.records.tables import LetterTable
from exchange.records.values import Letter

_read = reader(Letter)
MOST_TRIES = 8


def with_key(tx: Tx, key: str) -> Letter | None:
    row = tx.scalars(select(LetterTable).where(LetterTable.key == key)).one_or_none()
    return None if row is None else _read(row)


def due(tx: Tx, now: datetime, most: int) -> tuple[Letter, ...]:
    query = (
        select(LetterTable)
        .where(
            LetterTable.state == "waiting",
            LetterTable.tries < MOST_TRIES,
            or_(LetterTable.not_before.is_(None), LetterTable.not_before <= now),
        )
        .order_by(LetterTable.id)
        .limit(most)
        .with_for_update(skip_locked=True)
    )
    return tuple(_read(row) for row in tx.scalars(query))
