"""Late: the receiver says that a parcel has not come yet, and its sender is told once."""

from datetime import datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.diary import arrival_window
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.parcel_letters import both_ends, write_to
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import ENDED
from exchange.records import PARCELS, PLACES, Tx
from exchange.words.posting import ended as words


class NotLateError(RefusedError):
    """It is not late: its end was told, or its expected days are not over."""


def say_late(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Say that a parcel has not come though its days are over; its sender is told the first time.

    Raises
    ------
    NotLateError
        When its end has been told, or it may still come in time.
    """
    with actor.books.writing() as tx:
        record_late(tx, actor, parcel_id, now)


def record_late(tx: Tx, actor: Actor, parcel_id: int, now: datetime) -> None:
    """Keep that a parcel is late, within an act; see `say_late` for refusals."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    actor.must(Permission.SAY_ARRIVED, subject_of(tx, actor, entry, now))
    place = PLACES.get(tx, actor.circle_id, entry.receiver_place_id)
    today = now.astimezone(ZoneInfo(place.zone)).date()
    window = arrival_window(entry)
    if entry.state in ENDED or window is None or today <= window.last:
        raise NotLateError("It may still come on the days expected; nothing is noted.")
    if entry.missed_on is not None:
        return
    PARCELS.change(tx, actor.circle_id, parcel_id, missed_on=today, changed_at=now)
    note(tx, actor, "said a parcel has not come yet", entry.code, now)
    sender, _receiver = both_ends(entry)
    write_to(
        tx, actor, sender, f"late:{parcel_id}",
        lambda reader, about, link: words.late(reader, about, (today, window.last), link), now,
    )  # fmt: skip
