"""Giving plants of a spare, and freeing them."""

from sqlalchemy import update

from exchange.records.repository import touch
from exchange.records.tables import SpareTable
from exchange.records.transaction import Tx


class NotEnoughLeftError(Exception):
    """Fewer plants of the spare are left than were to be given."""


def take(tx: Tx, circle_id: int, spare_id: int, count: int) -> None:
    """Give away plants of a spare; the database refuses more than are left.

    Raises
    ------
    NotEnoughLeftError
        If the spare is withdrawn or has fewer plants left.
    """
    taken = tx._session.execute(
        update(SpareTable)
        .where(
            SpareTable.id == spare_id,
            SpareTable.circle_id == circle_id,
            SpareTable.withdrawn_at.is_(None),
            SpareTable.allocated + count <= SpareTable.count,
        )
        .values(allocated=SpareTable.allocated + count)
        .returning(SpareTable.id)
        .execution_options(synchronize_session="fetch")
    )
    if taken.one_or_none() is None:
        raise NotEnoughLeftError(f"spare {spare_id} has fewer than {count} plants left")
    touch(tx, circle_id)


def give_back(tx: Tx, circle_id: int, spare_id: int, count: int) -> None:
    """Free plants of a spare that were given away."""
    tx._session.execute(
        update(SpareTable)
        .where(
            SpareTable.id == spare_id,
            SpareTable.circle_id == circle_id,
            SpareTable.allocated >= count,
        )
        .values(allocated=SpareTable.allocated - count)
        .execution_options(synchronize_session="fetch")
    )
    touch(tx, circle_id)
