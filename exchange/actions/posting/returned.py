"""Returned: a parcel came back to its sender; what is still good goes again, the rest is given up."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.in_parcel import spread
from exchange.actions.posting.missing import gone_again, missing_lines, record_missing, stand_again
from exchange.actions.posting.parcel_facts import lines_of, subject_of
from exchange.actions.posting.parcel_letters import both_ends, contents, write_to
from exchange.actions.posting.parcels import (
    AlreadyOnItsWayError,
    DayRefusedError,
    check_alive,
    check_past,
    rewrite,
)
from exchange.actions.posting.replan import gather
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import WITH_SENDER, ParcelState
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, PARCEL_LINES, PARCELS, Tx
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting import ended as words


@dataclass(frozen=True, slots=True)
class CameBack:
    """What the sender says of a parcel that came back.

    Attributes
    ----------
    good : allocation id -> plants still good, for all of its kind; of those not named all are
    """

    day: date
    good: Mapping[int, int] = field(default_factory=dict)


def say_returned(actor: Actor, parcel_id: int, back: CameBack, now: datetime) -> None:
    """Say that a parcel came back to its sender.

    What is still good is planned anew in another parcel; the rest the claim lacks again.

    Raises
    ------
    AlreadyOnItsWayError
        When it has come, has come back before, or was never on its way.
    DayRefusedError
        When the day lies before the posting or is still to come.
    AliveCountRefusedError
        When more plants are said to be good than were sent.
    """
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        _check(entry, back.day)
        check_past(back.day, today_in(circle_of(actor, tx), now))
        stand_again(tx, actor, entry)
        lines = lines_of(tx, actor.circle_id, parcel_id)
        said = {one.allocation_id: one.count for one in lines} | dict(back.good)
        check_alive(lines, back.good, "good")
        said |= spread(back.good, lines)
        gone = {one.allocation_id: one.count - said[one.allocation_id] for one in lines}
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            state=ParcelState.RETURNED,
            condition=ParcelState.RETURNED.value,
            arrived_on=None,
            held=False,
            changed_at=now,
            closed_at=now,
        )
        record_missing(tx, actor, entry, gone, now)
        note(tx, actor, "said a parcel came back", entry.code, now)
        gather(tx, actor.circle_id, now)
        rewrite(tx, actor, parcel_id, now)
        _tell_receiver(tx, actor, entry, now)
        ask(tx, actor, "plan", None, now)


def not_returned(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Undo "it came back": it is on its way again, unless what was in it has been posted since.

    Raises
    ------
    AlreadyOnItsWayError
        When it had not come back, or its plants are in a parcel that has gone.
    """
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        if entry.state is not ParcelState.RETURNED:
            raise AlreadyOnItsWayError("It has not come back.")
        if any(one.state not in WITH_SENDER for one in gone_again(tx, actor.circle_id, entry)):
            raise AlreadyOnItsWayError("What was in it has been posted again since.")
        stand_again(tx, actor, entry)
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            state=ParcelState.POSTED,
            posted_on=entry.posted_on or entry.posting_day,
            condition="",
            closed_at=None,
            changed_at=now,
        )
        note(tx, actor, "took back that a parcel came back", entry.code, now)
        gather(tx, actor.circle_id, now)
        rewrite(tx, actor, parcel_id, now)
        ask(tx, actor, "plan", None, now)


def _check(entry: ParcelRow, day: date) -> None:
    if entry.state is ParcelState.ARRIVED:
        raise AlreadyOnItsWayError("It is said to have come; that must be taken back first.")
    if entry.state is ParcelState.RETURNED:
        raise AlreadyOnItsWayError("That it came back has been told already.")
    gone = entry.posted_on or (entry.posting_day if entry.is_announced else None)
    if gone is None:
        raise AlreadyOnItsWayError("It has not gone yet.")
    if day < gone:
        raise DayRefusedError("It was posted after that day; give the day it came back.", "day")


def _tell_receiver(tx: Tx, actor: Actor, entry: ParcelRow, now: datetime) -> None:
    _sender, receiver = both_ends(entry)
    rows = PARCEL_LINES.all(tx, actor.circle_id, parcel_id=entry.id)
    inside = {row.allocation_id for row in rows}
    stands = ALLOCATIONS.all(tx, actor.circle_id, id=inside, state=STANDING)
    again = contents(tx, actor.circle_id, entry.id, {one.id for one in stands})
    gone = missing_lines(tx, actor.circle_id, entry.id)
    write_to(
        tx, actor, receiver, f"came_back:{entry.id}:{now.isoformat()}",
        lambda reader, about, link: words.came_back(reader, about, (again, gone), link), now,
    )  # fmt: skip
