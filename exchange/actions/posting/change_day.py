"""Moving a parcel to another day, and fixing the way it goes."""

from dataclasses import replace
from datetime import date, datetime
from typing import Any, TypedDict

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.announcements import Announced, chosen_columns
from exchange.actions.posting.other_day import change_of, day_version
from exchange.actions.posting.parcel_facts import lines_of, subject_of
from exchange.actions.posting.parcel_letters import both_ends, write_to
from exchange.actions.posting.parcels import (
    AlreadyOnItsWayError,
    plan_of,
    rewrite,
)
from exchange.domain.permissions import Permission
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.parcel import OPEN
from exchange.domain.posting.reasons import DayNote, DayWord, PostingReason, Topic
from exchange.domain.posting.strip import StripDay
from exchange.domain.posting.transit import expected_days
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, PARCELS, WAYS, Tx
from exchange.records.columns import to_plain
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel import letters as letter_words
from exchange.words.posting import posting_days as words


class NothingAskedError(RefusedError):
    """The question about a parcel's day no longer stands."""


def move_day(
    actor: Actor, parcel_id: int, day: date, now: datetime, opened: str | None = None
) -> None:
    """Move a parcel to another day of its strip, and tell both ends.

    It stands there: whoever moved it is asked before it is moved again.

    Parameters
    ----------
    opened : the version the page was opened with

    Raises
    ------
    AlreadyOnItsWayError
        When it is on its way.
    DayRefusedError
        When nothing can be posted on that day.
    OverLimitError
        When more would be lost than the circle agreed on; `post_anyway` takes it.
    EditedMeanwhileError
        When its day was changed after the page was opened.
    """
    with actor.books.writing() as tx:
        must_be_as_opened(opened, day_version(PARCELS.get(tx, actor.circle_id, parcel_id)))
        record_moved(tx, actor, parcel_id, day, now)


def record_moved(tx: Tx, actor: Actor, parcel_id: int, day: date, now: datetime) -> None:
    """Move a parcel within an act; see `move_day` for refusals."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
    change = change_of(tx, actor, entry, day)
    old = entry.announced_day
    if old == day:
        return
    record_chosen(tx, actor, entry, change.after, now)


def record_chosen(
    tx: Tx, actor: Actor, entry: ParcelRow, after: StripDay, now: datetime, against: str = ""
) -> None:
    """Keep the day somebody chose for a parcel, and tell both ends, within an act.

    Parameters
    ----------
    against : where it goes against the plan's advice, what both ends are told of it
    """
    window, day = expected_days(after.coming), after.day
    way_id, by, old = after.way_id, actor.acting_for or actor.member_id, entry.announced_day
    told: Announced = chosen_columns(by, day, way_id, after.loss, now)
    told["against_advice"] = bool(against)
    PARCELS.change(
        tx,
        actor.circle_id,
        entry.id,
        **told,
        posting_day=day,
        way_id=way_id,
        arrival_from=window[0],
        arrival_to=window[1],
        loss_chance=after.loss,
        held=False,
        waiting_since=None,
        changed_at=now,
        **_replanned(tx, actor, entry, after, window),
    )
    deed = "posts a parcel against advice" if against else "moved a parcel"
    note(tx, actor, deed, f"{entry.code} to {day}", now)
    rewrite(tx, actor, entry.id, now)
    if old != day and (old is not None or against):
        why = against or "It was moved by hand, not for the weather."
        _tell(tx, actor, entry.id, (old or day, day), why, now)


def keep_day(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Answer the question about a chosen day with keeping it; it is asked again only for another ground.

    Raises
    ------
    NothingAskedError
        When nothing is asked about its day any more.
    """
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        if entry.question is None or entry.day_kept or entry.state not in OPEN:
            raise NothingAskedError("Nothing is asked about its day any more.")
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            day_kept=True,
            announced_loss=entry.loss_chance,
            changed_at=now,
        )
        note(tx, actor, "kept the day of a parcel", entry.code, now)


def choose_way(
    actor: Actor, parcel_id: int, way_id: int | None, now: datetime, opened: str | None = None
) -> None:
    """Fix the way a parcel goes, by hand for example, or leave it open again; it is planned again.

    Parameters
    ----------
    opened : the version the form was opened with

    Raises
    ------
    AlreadyOnItsWayError
        When it is on its way.
    EditedMeanwhileError
        When another way was chosen after the form was opened.
    """
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        must_be_as_opened(opened, chosen_version(entry))
        if entry.state not in OPEN:
            raise AlreadyOnItsWayError("It is on its way already.")
        if way_id is not None:
            WAYS.get(tx, actor.circle_id, way_id)
        PARCELS.change(tx, actor.circle_id, parcel_id, chosen_way_id=way_id, changed_at=now)
        note(tx, actor, "chose a way of sending", entry.code, now)
        ask(tx, actor, "plan", None, now)


def chosen_version(entry: ParcelRow) -> str:
    """Give the version of the way chosen for a parcel, for its form."""
    return version_of(entry, ("chosen_way_id",))


def ask_to_plan(actor: Actor, kind: str, now: datetime) -> int:
    """Ask for all posting days to be weighed again, "plan", or after fetching, "forecasts".

    Returns
    -------
    id of the task
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        return ask(tx, actor, kind, None, now)


def agree_all(actor: Actor, parcel_id: int, now: datetime) -> int:
    """Let the sender say yes to everything in a parcel; give how many allocations that was."""
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        ids = {line.allocation_id for line in lines_of(tx, actor.circle_id, parcel_id)}
        asked = ALLOCATIONS.all(tx, actor.circle_id, id=ids, state=AllocationState.CONFIRMED)
        for one in asked:
            ALLOCATIONS.change(
                tx, actor.circle_id, one.id, state=AllocationState.AGREED, answered_at=now
            )
        if asked:
            note(tx, actor, "said yes to a parcel", entry.code, now)
    return len(asked)


class _Replanned(TypedDict, total=False):
    plan: dict[str, Any]
    reasons: tuple[str, ...]


def _replanned(
    tx: Tx, actor: Actor, entry: ParcelRow, after: StripDay, window: tuple[date, date]
) -> _Replanned:
    """Give the plan as it reads after the move, so that pages and papers show the new day."""
    plan = plan_of(entry)
    if plan is None:
        return {}
    way = WAYS.get(tx, actor.circle_id, after.way_id).name if after.way_id else ""
    chosen = PostingReason(Topic.CHOSEN, after.day, number=after.loss, label=way)
    moved = replace(
        plan,
        answer=PostingAnswer.POST,
        day=after.day,
        way_id=after.way_id,
        arrival_from=window[0],
        arrival_to=window[1],
        loss_chance=after.loss,
        held=False,
        reasons=(chosen, *_of_source(plan)),
        strip=tuple(_marked(one, after.day) for one in plan.strip),
        moved=None,
        announced=True,
        asked=None,
        told_loss=after.loss,
        known=None,
    )
    return {"plan": to_plain(moved), "reasons": words.reasons(moved)}


def _of_source(plan: ParcelPlan) -> tuple[PostingReason, ...]:
    lasting = {Topic.CLIMATE_ONLY, Topic.LATER_NIGHTS_CLIMATE, Topic.NOTED_BORDER}
    lasting |= {Topic.NO_SHELTER_GIVEN, Topic.NO_ROOM_GIVEN, Topic.WARMER_PACKING}
    return tuple(one for one in plan.reasons if one.about in lasting)


def _marked(one: StripDay, day: date) -> StripDay:
    if one.day == day:
        return replace(one, word=DayWord.POST, chosen=True, note=DayNote.BY_PERSON)
    if one.chosen:
        return replace(one, word=DayWord.GOOD, chosen=False, note=DayNote.NONE)
    return one


def _tell(
    tx: Tx, actor: Actor, parcel_id: int, days: tuple[date, date], why: str, now: datetime
) -> None:
    """Tell both ends that somebody chose the day, and why it is not for the weather."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    key = f"moved:{parcel_id}:{days[0]}:{days[1]}:{now.date()}"
    for to in both_ends(entry):
        write_to(
            tx, actor, to, key,
            lambda reader, about, link: letter_words.moved(reader, about, days, (why,), link), now,
        )  # fmt: skip
