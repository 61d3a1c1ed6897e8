"""Answers by a one-button link: the link is used up with what it stands for, or not at all."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeAlias
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, House, now_of
from exchange.actions.kernel.links import LinkGoneError, Opened, Purpose, look_at_link, redeem
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.late import record_late
from exchange.actions.posting.not_gone import record_not_gone
from exchange.actions.posting.page_question import ParcelAsked, parcel_asked
from exchange.actions.posting.parcels import Arrival, record_arrived, record_posted
from exchange.actions.sharing.old_claims import OldClaim, old_claims, record_all_wanted
from exchange.actions.sharing.sender_answer import (
    SenderAnswer,
    ToAnswer,
    asked_of_sender,
    record_sender_answer,
)
from exchange.records import PARCELS, PLACES, Tx
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.posting import ParcelRow


class NotAnsweredError(RefusedError):
    """Nothing, or nothing that can be read, was answered."""


@dataclass(frozen=True, slots=True)
class Went:
    """The parcel went on a day; None means the day it was to go on."""

    day: date | None = None


@dataclass(frozen=True, slots=True)
class NotGone:
    """The parcel is still with its sender; None leaves the new day to the program."""

    new_day: date | None = None


@dataclass(frozen=True, slots=True)
class NeverCame:
    """The parcel was lost on the way."""


@dataclass(frozen=True, slots=True)
class NotYet:
    """The parcel has not come yet; the link goes on working."""


@dataclass(frozen=True, slots=True)
class CanGo:
    """What of the plants asked for can go; None means all of them."""

    answers: tuple[SenderAnswer, ...] | None = None


@dataclass(frozen=True, slots=True)
class StillWanted:
    """What was asked for in an earlier season is still wanted."""


Said: TypeAlias = Went | NotGone | Arrival | NeverCame | NotYet | CanGo | StillWanted

ANSWERS: dict[Purpose, tuple[type[Said], ...]] = {
    Purpose.DID_IT_GO: (Went, NotGone),
    Purpose.DID_IT_COME: (Arrival, NeverCame, NotYet),
    Purpose.SENDER_ANSWER: (CanGo,),
    Purpose.STILL_WANTED: (StillWanted,),
}
"""What may be answered by the link of each question."""


@dataclass(frozen=True, slots=True)
class PressedLink:
    """A link as it was followed."""

    token: str
    purpose: Purpose


@dataclass(frozen=True, slots=True)
class LinkQuestion:
    """What the page of a link asks.

    Attributes
    ----------
    parcel : asked about, None where a sender is asked what can go
    asked : what a sender is asked to send
    old : claims of an earlier season
    now : the circle's
    """

    opened: Opened
    parcel: ParcelAsked | None
    asked: tuple[ToAnswer, ...]
    now: datetime
    old: tuple[OldClaim, ...] = ()


@dataclass(frozen=True, slots=True)
class Answered:
    """What is on record after an answer, for the thanks.

    Attributes
    ----------
    circle : its name
    parcel : as it stands now, None where a sender was asked what can go
    plants : how many can go [plants]
    claims : how many still stand [claims]
    """

    circle: str
    parcel: ParcelRow | None = None
    plants: int = 0
    claims: int = 0

    @property
    def told_of(self) -> ParcelRow:
        """The parcel, where the question was about one."""
        if self.parcel is None:
            raise ValueError("no parcel was asked about")
        return self.parcel


def question_of(house: House, link: PressedLink, machine_now: datetime) -> LinkQuestion:
    """Give what a link asks, without using it up.

    Raises
    ------
    LinkGoneError
        When it cannot be used any more, or its member has left.
    """
    with house.books.reading() as tx:
        opened, now = _opened(tx, house, link, machine_now)
        actor, parcel_id = opened.actor(house), opened.subject_id or 0
        if link.purpose is Purpose.SENDER_ANSWER:
            return LinkQuestion(opened, None, _asked(tx, actor, parcel_id), now)
        if link.purpose is Purpose.STILL_WANTED:
            return LinkQuestion(opened, None, (), now, old_claims(tx, actor, now))
        return LinkQuestion(opened, parcel_asked(tx, actor, parcel_id), (), now)


def answer_by_link(house: House, link: PressedLink, said: Said, machine_now: datetime) -> Answered:
    """Use a link up and do what it stands for; if that is refused, or not the last word, the link still works.

    Raises
    ------
    LinkGoneError
        When it was used before, has run out, or does not ask this.
    NotAnsweredError
        When it is said to have gone on its day, and it has no day.
    """
    with house.books.writing() as tx:
        opened, now = _opened(tx, house, link, machine_now)
        # The link first: of two presses at once, the second finds it used and does nothing.
        if not isinstance(said, NotYet):
            redeem(tx, opened, now)
        if not isinstance(said, ANSWERS.get(opened.purpose, ())):
            raise LinkGoneError
        return _answer(tx, opened, opened.actor(house), said, now)


def _answer(tx: Tx, opened: Opened, actor: Actor, said: Said, now: datetime) -> Answered:
    circle, parcel_id = opened.circle, opened.subject_id or 0
    match said:
        case Went(day):
            record_posted(tx, actor, parcel_id, day or _planned(tx, actor, parcel_id), now)
        case NotGone(new_day):
            record_not_gone(tx, actor, parcel_id, new_day, now)
        case Arrival():
            record_arrived(tx, actor, parcel_id, said, now)
        case NeverCame():
            lost = Arrival(_today_there(tx, actor, parcel_id, now), lost=True)
            record_arrived(tx, actor, parcel_id, lost, now)
        case NotYet():
            record_late(tx, actor, parcel_id, now)
        case CanGo(answers):
            return _can_go(tx, circle, actor, parcel_id, answers, now)
        case StillWanted():
            return Answered(circle.name, claims=record_all_wanted(tx, actor, now))
    return Answered(circle.name, PARCELS.get(tx, actor.circle_id, parcel_id))


def _can_go(
    tx: Tx,
    circle: CircleRow,
    actor: Actor,
    parcel_id: int,
    answers: tuple[SenderAnswer, ...] | None,
    now: datetime,
) -> Answered:
    if answers is None:
        asked = _asked(tx, actor, parcel_id)
        answers = tuple(SenderAnswer(one.allocation_id, one.count) for one in asked)
    record_sender_answer(tx, actor, answers, now)
    return Answered(circle.name, plants=sum(one.count for one in answers))


def _opened(
    tx: Tx, house: House, link: PressedLink, machine_now: datetime
) -> tuple[Opened, datetime]:
    """Give the link with its circle's now."""
    opened = look_at_link(
        tx, link.token, link.purpose, lambda circle: now_of(house, circle, machine_now)
    )
    return opened, now_of(house, opened.circle, machine_now)


def _asked(tx: Tx, actor: Actor, parcel_id: int) -> tuple[ToAnswer, ...]:
    """Give what is asked about a parcel, or about everything once the parcel no longer exists."""
    of_parcel = asked_of_sender(tx, actor, parcel_id) if parcel_id else ()
    return of_parcel or asked_of_sender(tx, actor)


def _planned(tx: Tx, actor: Actor, parcel_id: int) -> date:
    """Give the day a parcel was to go on."""
    day = PARCELS.get(tx, actor.circle_id, parcel_id).posting_day
    if day is None:
        raise NotAnsweredError("Give the day on which it went.", "day")
    return day


def _today_there(tx: Tx, actor: Actor, parcel_id: int, now: datetime) -> date:
    """Give the date where the parcel was to come."""
    place_id = PARCELS.get(tx, actor.circle_id, parcel_id).receiver_place_id
    return now.astimezone(ZoneInfo(PLACES.get(tx, actor.circle_id, place_id).zone)).date()
