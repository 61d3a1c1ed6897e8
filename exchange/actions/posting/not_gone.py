"""Not gone: the sender says that a parcel is still there after its day."""

from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.announcements import NOTHING_ANNOUNCED, Announced
from exchange.actions.posting.change_day import record_moved
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.parcels import AlreadyOnItsWayError, rewrite
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import ParcelState
from exchange.records import PARCELS, Tx

NOT_GONE = frozenset({ParcelState.PLANNED, ParcelState.ANNOUNCED, ParcelState.POSTED})


def say_not_gone(actor: Actor, parcel_id: int, new_day: date | None, now: datetime) -> None:
    """Say that a parcel did not go on its day; it goes on the new day, or is planned again.

    Raises
    ------
    AlreadyOnItsWayError
        When it has been said to have come or been lost.
    DayRefusedError
        When nothing can be posted on the new day.
    """
    with actor.books.writing() as tx:
        record_not_gone(tx, actor, parcel_id, new_day, now)


def record_not_gone(
    tx: Tx, actor: Actor, parcel_id: int, new_day: date | None, now: datetime
) -> None:
    """Keep that a parcel is still there, within an act; see `say_not_gone` for refusals."""
    if new_day is not None:
        record_moved(tx, actor, parcel_id, new_day, now)
        return
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
    if entry.state not in NOT_GONE:
        raise AlreadyOnItsWayError("It has come already.")
    nothing: Announced = NOTHING_ANNOUNCED
    PARCELS.change(
        tx,
        actor.circle_id,
        parcel_id,
        **nothing,
        posting_day=None,
        arrival_from=None,
        arrival_to=None,
        loss_chance=None,
        posted_on=None,
        held=True,
        changed_at=now,
    )
    note(tx, actor, "said a parcel has not gone", entry.code, now)
    rewrite(tx, actor, parcel_id, now)
    ask(tx, actor, "plan", None, now)
