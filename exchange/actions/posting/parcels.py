"""What members say of a parcel: it went, it came, it was lost; each can be taken back."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from typing import TypedDict

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.came_alive import make_batches, remove_batches
from exchange.actions.posting.diary import rewrite_parcel
from exchange.actions.posting.in_parcel import spread, stands_for
from exchange.actions.posting.missing import record_missing, stand_again, tell_sender
from exchange.actions.posting.parcel_facts import facts_around, lines_of, subject_of
from exchange.domain.arriving.arrival import Condition
from exchange.domain.permissions import Permission, Subject
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import ENDED, Line, ParcelState
from exchange.domain.posting.strip import StripDay
from exchange.domain.posting.transit import expected_days
from exchange.domain.posting.way import Carriage
from exchange.records import (
    PARCEL_LINES,
    PARCELS,
    WAYS,
    Tx,
)
from exchange.records.columns import from_plain
from exchange.records.rows.posting import ParcelLineRow, ParcelRow

ENDED_THERE = frozenset({ParcelState.ARRIVED, ParcelState.LOST})
"""States of a parcel whose receiver said that it came, or never did."""
LONGEST_JOURNEY = timedelta(days=60)
"""A day further back is taken for a typing mistake (judgement)."""


class DayRefusedError(RefusedError):
    """The day given is impossible."""


class AlreadyOnItsWayError(RefusedError):
    """The parcel has been posted or has come."""


class AliveCountRefusedError(RefusedError):
    """More plants alive than were sent, or fewer than none."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """What the receiver says of a parcel.

    Attributes
    ----------
    lost : it never came
    alive : allocation id -> plants that live, for all of its kind; of those not named all live, or none if it came dead
    """

    day: date
    condition: Condition = Condition.WELL
    lost: bool = False
    alive: Mapping[int, int] = field(default_factory=dict)


def say_posted(
    actor: Actor, parcel_id: int, day: date, now: datetime, opened: str | None = None
) -> None:
    """Say that a parcel was posted on a day.

    Parameters
    ----------
    opened : the version the form was opened with

    Raises
    ------
    AlreadyOnItsWayError
        When it has come, or was given up for lost.
    DayRefusedError
        When the day is still to come, or long past.
    EditedMeanwhileError
        When another day was recorded after the form was opened.
    """
    with actor.books.writing() as tx:
        must_be_as_opened(opened, posted_version(PARCELS.get(tx, actor.circle_id, parcel_id)))
        record_posted(tx, actor, parcel_id, day, now)


def record_posted(tx: Tx, actor: Actor, parcel_id: int, day: date, now: datetime) -> None:
    """Keep that a parcel was posted, within an act; see `say_posted` for refusals."""
    entry, subject = _looked_up(tx, actor, parcel_id, Permission.SAY_POSTED, now)
    if entry.state in ENDED:
        raise AlreadyOnItsWayError("Its end has been told already.")
    check_past(day, subject.today)
    PARCELS.change(
        tx,
        actor.circle_id,
        parcel_id,
        state=ParcelState.POSTED,
        posted_on=day,
        held=False,
        changed_at=now,
        **_window(tx, actor, entry, day),
    )
    note(tx, actor, "posted a parcel", entry.code, now)
    rewrite(tx, actor, parcel_id, now)


def posted_version(entry: ParcelRow) -> str:
    """Give the version of the day a parcel was posted, for its form."""
    return version_of(entry, ("posted_on",))


def not_posted(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Undo "posted": the parcel stands as it was announced, and is planned again."""
    with actor.books.writing() as tx:
        entry, _subject = _looked_up(tx, actor, parcel_id, Permission.SAY_POSTED, now)
        if entry.state is not ParcelState.POSTED:
            raise AlreadyOnItsWayError("It is not on its way.")
        PARCELS.change(
            tx, actor.circle_id, parcel_id, posted_on=None, changed_at=now, **_announced(entry)
        )
        note(tx, actor, "took back that a parcel was posted", entry.code, now)
        rewrite(tx, actor, parcel_id, now)


def say_arrived(actor: Actor, parcel_id: int, arrival: Arrival, now: datetime) -> bool:
    """Say that a parcel came, and how; that it came implies that it was posted.

    Returns
    -------
    whether it is kept; an earlier answer stands until it is taken back

    Raises
    ------
    DayRefusedError
        When the day lies before the posting or is still to come.
    AliveCountRefusedError
        When more plants are said to live than were sent.
    """
    with actor.books.writing() as tx:
        return record_arrived(tx, actor, parcel_id, arrival, now)


def record_arrived(tx: Tx, actor: Actor, parcel_id: int, arrival: Arrival, now: datetime) -> bool:
    """Keep how a parcel came, within an act; see `say_arrived`."""
    entry, subject = _looked_up(tx, actor, parcel_id, Permission.SAY_ARRIVED, now)
    if entry.state in {ParcelState.ARRIVED, ParcelState.RETURNED}:
        return False
    check_past(arrival.day, subject.today)
    if entry.posted_on is not None and arrival.day < entry.posted_on:
        raise DayRefusedError("It was posted after that day; give the day it came.", "day")
    rows = PARCEL_LINES.all(tx, actor.circle_id, parcel_id=entry.id)
    lines = lines_of(tx, actor.circle_id, entry.id)
    inside = {one.allocation_id for one in lines}
    said = {one: count for one, count in arrival.alive.items() if one in inside}
    check_alive(lines, said)
    arrival = replace(arrival, alive=spread(said, lines))
    alive = {row.allocation_id: _alive(row, arrival) for row in rows}
    stand_again(tx, actor, entry)
    state = ParcelState.LOST if arrival.lost else ParcelState.ARRIVED
    PARCELS.change(
        tx,
        actor.circle_id,
        parcel_id,
        state=state,
        arrived_on=None if arrival.lost else arrival.day,
        condition="lost" if arrival.lost else arrival.condition.value,
        held=False,
        changed_at=now,
        closed_at=now,
    )
    if state is ParcelState.ARRIVED:
        make_batches(tx, actor, entry, alive, arrival.day)
    gone = {row.allocation_id: row.count - alive[row.allocation_id] for row in rows}
    if record_missing(tx, actor, entry, gone, now):
        tell_sender(tx, actor, entry.id, now)
    note(tx, actor, "said how a parcel came", f"{entry.code}: {state.value}", now)
    rewrite(tx, actor, parcel_id, now)
    return True


def not_arrived(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Undo "it came" and "lost": what had come is no longer among the receiver's plants.

    What had not lived stands as given again; what was given in its place meanwhile stays given.
    """
    with actor.books.writing() as tx:
        entry, _subject = _looked_up(tx, actor, parcel_id, Permission.SAY_ARRIVED, now)
        if entry.state not in ENDED_THERE:
            raise AlreadyOnItsWayError("It has not come yet.")
        remove_batches(tx, actor, entry)
        stand_again(tx, actor, entry)
        stands: _Standing = {"state": ParcelState.POSTED} if entry.posted_on else _announced(entry)
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            arrived_on=None,
            condition="",
            closed_at=None,
            changed_at=now,
            **stands,
        )
        note(tx, actor, "took back how a parcel came", entry.code, now)
        rewrite(tx, actor, parcel_id, now)


def plan_of(entry: ParcelRow) -> ParcelPlan | None:
    """Give what was last planned for a parcel."""
    return from_plain(ParcelPlan, entry.plan) if entry.plan else None


def strip_day(entry: ParcelRow, day: date | None) -> StripDay | None:
    """Give a day of the parcel's strip, or None outside it."""
    plan = plan_of(entry)
    return next((one for one in plan.strip if one.day == day), None) if plan and day else None


def rewrite(tx: Tx, actor: Actor, parcel_id: int, now: datetime) -> None:
    """Bring both households' dates in line with what is now said of a parcel."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    rewrite_parcel(tx, actor.circle_id, facts_around(tx, actor.circle_id, entry, now), now)


def _looked_up(
    tx: Tx, actor: Actor, parcel_id: int, permission: Permission, now: datetime
) -> tuple[ParcelRow, Subject]:
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    subject = subject_of(tx, actor, entry, now)
    actor.must(permission, subject)
    return entry, subject


class _Expected(TypedDict, total=False):
    """Way and days of a parcel, as far as they change."""

    way_id: int | None
    posting_day: date | None
    arrival_from: date
    arrival_to: date


class _Standing(_Expected, total=False):
    state: ParcelState


def _announced(entry: ParcelRow) -> _Standing:
    """Give the columns of a parcel as it was last announced, before anything was said of it."""
    told = strip_day(entry, entry.announced_day)
    if entry.announced_day is None or told is None or not told.coming:
        state = ParcelState.PLANNED if entry.announced_day is None else ParcelState.ANNOUNCED
        return {"state": state, "posting_day": entry.announced_day}
    first, last = expected_days(told.coming)
    return {
        "state": ParcelState.ANNOUNCED,
        "posting_day": entry.announced_day,
        "way_id": entry.announced_way_id,
        "arrival_from": first,
        "arrival_to": last,
    }


def _window(tx: Tx, actor: Actor, entry: ParcelRow, day: date) -> _Expected:
    """Give the expected days of a parcel posted on another day than planned."""
    if entry.posting_day == day and entry.arrival_from is not None:
        return {}
    way_id = entry.way_id or entry.chosen_way_id
    if way_id is None:
        posts = WAYS.all(tx, actor.circle_id, carriage=Carriage.POST, used=True)
        way_id = posts[0].id if posts else None
    found = strip_day(entry, day)
    if found is not None and found.coming:
        first, last = expected_days(found.coming)
    else:
        first, last = day + timedelta(days=1), day + timedelta(days=3)
    return {"way_id": way_id, "posting_day": day, "arrival_from": first, "arrival_to": last}


def _alive(row: ParcelLineRow, arrival: Arrival) -> int:
    otherwise = 0 if arrival.lost or arrival.condition is Condition.DEAD else row.count
    return arrival.alive.get(row.allocation_id, otherwise)


def check_alive(lines: tuple[Line, ...], said: Mapping[int, int], field: str = "alive") -> None:
    """Refuse more plants than were sent; see `say_arrived`."""
    for allocation_id, count in said.items():
        sent = sum(one.count for one in stands_for(allocation_id, said, lines))
        if not 0 <= count <= sent:
            raise AliveCountRefusedError(
                f"Write a number from 0 to {sent}; so many were sent.", f"{field}-{allocation_id}"
            )


def check_past(day: date, today: date | None) -> None:
    """Refuse a day to come, or long past."""
    if today is None:
        return
    if day > today:
        raise DayRefusedError("That day is still to come.", "day")
    if day < today - LONGEST_JOURNEY:
        raise DayRefusedError("That day is long past; look at the month.", "day")
