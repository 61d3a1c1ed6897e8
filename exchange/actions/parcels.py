"""What members say of a parcel: it went, it came, another day, another way."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.actor import Actor, circle_of, note, today_in
from exchange.actions.diary import rewrite_diary
from exchange.actions.facts import facts_of
from exchange.actions.refused import RefusedError
from exchange.domain.arriving.arrival import Condition
from exchange.domain.permissions import Permission, Subject
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.strip import StripDay
from exchange.domain.posting.transit import expected_days
from exchange.records import ALLOCATIONS, BATCHES, PARCEL_LINES, PARCELS, SPARES, WAYS, Tx
from exchange.records.frozen import from_plain
from exchange.records.values import ParcelEntry
from exchange.words.phrase import _


class DayRefusedError(RefusedError):
    """The day given cannot be."""


class AlreadyOnItsWayError(RefusedError):
    """The parcel has been posted or has come."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """What the receiver says of a parcel.

    Attributes
    ----------
    lost : it never came
    """

    day: date
    condition: Condition = Condition.WELL
    lost: bool = False


def subject_of(tx: Tx, actor: Actor, entry: ParcelEntry, now: datetime) -> Subject:
    """Give a parcel as permission needs to know it."""
    return Subject(
        sender=entry.sender_household_id,
        receiver=entry.receiver_household_id,
        planned=bool(entry.plan),
        arrived_on=entry.arrived_on,
        today=today_in(circle_of(actor, tx), now),
    )


def say_posted(actor: Actor, parcel_id: int, day: date, now: datetime) -> None:
    """Say that a parcel was posted on a day."""
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        subject = subject_of(tx, actor, entry, now)
        actor.must(Permission.SAY_POSTED, subject)
        if entry.state is ParcelState.ARRIVED:
            raise AlreadyOnItsWayError(_("It has come already."))
        _check_past(day, subject.today)
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
        _rewrite(tx, actor, now)


def not_posted(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Undo "posted": the parcel is planned again."""
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        if entry.state is not ParcelState.POSTED:
            raise AlreadyOnItsWayError(_("It is not on its way."))
        state = ParcelState.ANNOUNCED if entry.posting_day else ParcelState.PLANNED
        PARCELS.change(tx, actor.circle_id, parcel_id, state=state, posted_on=None, changed_at=now)
        note(tx, actor, "took back that a parcel was posted", entry.code, now)
        _rewrite(tx, actor, now)


def say_arrived(actor: Actor, parcel_id: int, arrival: Arrival, now: datetime) -> None:
    """Say that a parcel came, and how; that it came implies that it was posted."""
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        subject = subject_of(tx, actor, entry, now)
        actor.must(Permission.SAY_ARRIVED, subject)
        if entry.state is ParcelState.ARRIVED:
            return
        _check_past(arrival.day, subject.today)
        if entry.posted_on is not None and arrival.day < entry.posted_on:
            raise DayRefusedError(_("It was posted after that day; give the day it came."), "day")
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
        if state is ParcelState.ARRIVED and arrival.condition is not Condition.DEAD:
            _make_batches(tx, actor, entry, arrival.day)
        note(tx, actor, "said a parcel came", f"{entry.code}: {state.value}", now)
        _rewrite(tx, actor, now)


def move_day(actor: Actor, parcel_id: int, day: date, now: datetime) -> None:
    """Move a parcel to another day of its strip; the plan keeps it there unless much is gained.

    Raises
    ------
    DayRefusedError
        When nothing can be posted on that day.
    """
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        if entry.state not in {ParcelState.PLANNED, ParcelState.ANNOUNCED}:
            raise AlreadyOnItsWayError(_("It is on its way already."))
        chosen = _strip_day(entry, day)
        window = expected_days(chosen.coming)
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            state=ParcelState.ANNOUNCED,
            posting_day=day,
            announced_day=day,
            way_id=chosen.way_id,
            announced_way_id=chosen.way_id,
            arrival_from=window[0],
            arrival_to=window[1],
            loss_chance=chosen.loss,
            held=False,
            changed_at=now,
        )
        note(tx, actor, "moved a parcel", f"{entry.code} to {day}", now)
        _rewrite(tx, actor, now)


def choose_way(actor: Actor, parcel_id: int, way_id: int | None, now: datetime) -> None:
    """Fix the way a parcel goes, by hand for example; the next plan follows it."""
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        if way_id is not None:
            WAYS.get(tx, actor.circle_id, way_id)
        PARCELS.change(tx, actor.circle_id, parcel_id, chosen_way_id=way_id, changed_at=now)
        note(tx, actor, "chose a way of sending", entry.code, now)


def plan_of(entry: ParcelEntry) -> ParcelPlan | None:
    """Give what was last planned for a parcel."""
    return from_plain(ParcelPlan, entry.plan) if entry.plan else None


def _strip_day(entry: ParcelEntry, day: date) -> StripDay:
    plan = plan_of(entry)
    chosen = next((one for one in plan.strip if one.day == day), None) if plan else None
    if chosen is None or not chosen.coming:
        raise DayRefusedError(
            _("Nothing can be said of that day yet; choose one of the three weeks shown."), "day"
        )
    return chosen


def _window(tx: Tx, actor: Actor, entry: ParcelEntry, day: date) -> dict[str, object]:
    """Give the expected days of a parcel posted on another day than planned."""
    if entry.posting_day == day and entry.arrival_from is not None:
        return {}
    way_id = entry.way_id or entry.chosen_way_id
    if way_id is None:
        posts = WAYS.all(tx, actor.circle_id, carriage="post", used=True)
        way_id = posts[0].id if posts else None
    plan = plan_of(entry)
    found = next((one for one in plan.strip if one.day == day), None) if plan else None
    if found is not None and found.coming:
        first, last = expected_days(found.coming)
    else:
        first, last = day + timedelta(days=1), day + timedelta(days=3)
    return {"way_id": way_id, "posting_day": day, "arrival_from": first, "arrival_to": last}


def _make_batches(tx: Tx, actor: Actor, entry: ParcelEntry, day: date) -> None:
    """Let what came stand with the receiver: one batch for each kind, with where it came from."""
    allocations = ALLOCATIONS.by_id(tx, actor.circle_id)
    for row in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=entry.id):
        spare = SPARES.get(tx, actor.circle_id, allocations[row.allocation_id].spare_id)
        BATCHES.add(
            tx,
            actor.circle_id,
            variety_id=spare.variety_id,
            household_id=entry.receiver_household_id,
            place_id=entry.receiver_place_id,
            material=spare.material,
            raised=spare.raised,
            plants=row.count,
            shelter=None,
            origin=_("parcel {code}").format(code=entry.code),
            since=day,
        )


def _check_past(day: date, today: date | None) -> None:
    if today is not None and day > today:
        raise DayRefusedError(_("That day is still to come."), "day")


def _rewrite(tx: Tx, actor: Actor, now: datetime) -> None:
    rewrite_diary(tx, actor.circle_id, facts_of(tx, actor.circle_id, now), now)
