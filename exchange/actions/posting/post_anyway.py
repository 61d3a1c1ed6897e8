"""Posting a parcel on a day the plan advises against, by somebody who knows it."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, circle_of
from exchange.actions.kernel.edits import must_be_as_opened
from exchange.actions.posting.change_day import record_chosen
from exchange.actions.posting.other_day import anyway_of, day_version
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.parcels import plan_of
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import OPEN
from exchange.records import MEMBERS, PARCELS, Tx
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting.anyway import why_told


@dataclass(frozen=True, slots=True)
class AgainstAdvice:
    """Who chose to post against the plan's advice, and when, in the circle's zone."""

    who: str
    at: datetime
    loss: float | None


@dataclass(frozen=True, slots=True)
class OfferedDay:
    """The best day for a parcel of which no day soon is good enough.

    Attributes
    ----------
    loss : chance of losing the line most in danger
    version : of the parcel's day, for the press that takes it
    """

    day: date
    loss: float | None
    version: str


def offered_day(entry: ParcelRow, today: date) -> OfferedDay | None:
    """Give the day its plan offers although it is over the limit; None where there is none to take."""
    plan = plan_of(entry)
    best = plan.offered if plan else None
    if best is None or best.first is None or best.first <= today or entry.state not in OPEN:
        return None
    return OfferedDay(best.first, best.number, day_version(entry))


def post_anyway(
    actor: Actor, parcel_id: int, day: date, now: datetime, opened: str | None = None
) -> None:
    """Have a parcel go on a day on which more would be lost than the circle agreed on; both ends are told.

    It stands there: whoever chose it is asked before it is moved again.

    Parameters
    ----------
    opened : the version the page was opened with

    Raises
    ------
    AlreadyOnItsWayError
        When it is on its way.
    DayRefusedError
        When something but the weather stops it, or nothing speaks against the day.
    EditedMeanwhileError
        When its day was changed after the page was opened.
    """
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        must_be_as_opened(opened, day_version(entry))
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        change = anyway_of(tx, actor, entry, day)
        why = why_told(change.after.loss)
        record_chosen(tx, actor, entry, change.after, now, against=why)


def said_of(tx: Tx, actor: Actor, entry: ParcelRow) -> AgainstAdvice | None:
    """Give who chose the day against advice and when, or None where nobody did."""
    if not entry.against_advice or entry.announced_at is None:
        return None
    people = MEMBERS.by_id(tx, actor.circle_id)
    chooser = people.get(entry.day_chosen_by or 0)
    zone = ZoneInfo(circle_of(actor, tx).zone)
    name = chooser.full_name if chooser else "the organiser"
    return AgainstAdvice(name, entry.announced_at.astimezone(zone), entry.announced_loss)
