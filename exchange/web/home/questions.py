"""What the one-button links ask, how an answer is read, and the thanks for it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from werkzeug.datastructures import MultiDict
from wtforms import Form

from exchange.actions.home.answer_by_link import (
    Answered,
    CanGo,
    LinkQuestion,
    NeverCame,
    NotAnsweredError,
    NotGone,
    NotYet,
    Said,
    StillWanted,
    Went,
)
from exchange.actions.kernel.links import Purpose
from exchange.actions.posting.page_question import ParcelAsked
from exchange.actions.posting.parcels import Arrival
from exchange.domain.arriving.arrival import Condition
from exchange.domain.posting.parcel import ParcelState
from exchange.web.home.answer_forms import LinkArrivalForm, WentForm
from exchange.web.posting.sender_form import lines_sent, sender_form, sender_said
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import counted

Sent = MultiDict[str, str]
MOST_DAYS_SHOWN = 6


@dataclass(frozen=True, slots=True)
class Question:
    """One kind of question asked by a link.

    Attributes
    ----------
    template : extends "answers/question.html" and fills its block `question`
    show : gives the template's values for what is asked and what was sent so far
    read : gives what was answered; a RefusedError is shown above the question
    thanks : the sentence said afterwards, about what is then recorded
    """

    template: str
    show: Callable[[LinkQuestion, Sent], Mapping[str, Any]]
    read: Callable[[Sent], Said]
    thanks: Callable[[Said, Answered], str]


def _show_went(question: LinkQuestion, sent: Sent) -> Mapping[str, Any]:
    return {"parcel": question.parcel, "fields": _form(WentForm, sent), "now": question.now}


def _read_went(sent: Sent) -> Said:
    form = _read(WentForm, sent)
    if sent.get("answer") == "not_gone":
        return NotGone(form["new_day"].data)
    if sent.get("answer") == "went":
        return Went()
    if form["day"].data is None:
        raise NotAnsweredError("Give the day on which it went.", "day")
    return Went(form["day"].data)


def _thank_went(said: Said, answered: Answered) -> str:
    parcel = answered.told_of
    if isinstance(said, NotGone) or parcel.posted_on is None:
        return f"Thank you. {parcel.code} is still with you."
    return f"Thank you. {parcel.code} went on {dates.day(parcel.posted_on)}."


def _show_came(question: LinkQuestion, sent: Sent) -> Mapping[str, Any]:
    parcel = question.parcel
    days = _days(parcel, question.now) if parcel else ()
    return {"parcel": parcel, "fields": _form(LinkArrivalForm, sent), "days": days}


def _read_came(sent: Sent) -> Said:
    form = _read(LinkArrivalForm, sent)
    if sent.get("answer") == "not_yet":
        return NotYet()
    if sent.get("answer") == "never":
        return NeverCame()
    day = _day(sent.get("on", "")) or form["day"].data
    if day is None:
        raise NotAnsweredError("Give the day on which it came.", "day")
    return Arrival(day, Condition(form["condition"].data))


def _thank_came(said: Said, answered: Answered) -> str:
    """Say what is recorded: its coming may have been told before, by link or on its page."""
    parcel = answered.told_of
    if parcel.state is ParcelState.RETURNED:
        return f"Thank you. {parcel.code} came back to its sender, as was told before."
    if isinstance(said, NotYet) and parcel.closed_at is None:
        return (
            f"Thank you. {parcel.code} is noted as late, and its sender is told. "
            "The link in the letter goes on working: press when it has come."
        )
    if parcel.state is ParcelState.LOST or parcel.arrived_on is None:
        return f"Thank you. {parcel.code} is noted as lost."
    return f"Thank you. {parcel.code} came on {dates.day(parcel.arrived_on)}."


def _show_sender(question: LinkQuestion, sent: Sent) -> Mapping[str, Any]:
    asked = question.asked
    return {"asked": asked, "fields": _form(sender_form(asked), sent)}


def _read_sender(sent: Sent) -> Said:
    if sent.get("answer") == "all":
        return CanGo()
    lines = lines_sent(sent)
    if not lines:
        raise NotAnsweredError("Say how many can go.")
    return CanGo(tuple(sender_said(_read(sender_form(lines), sent), lines)))


def _thank_sender(_said: Said, answered: Answered) -> str:
    plants = counted(answered.plants, "plant", "plants")
    return f"Thank you. {plants} can go; the posting days follow."


def _show_wanted(question: LinkQuestion, _sent: Sent) -> Mapping[str, Any]:
    return {"old": question.old}


def _read_wanted(_sent: Sent) -> Said:
    return StillWanted()


def _thank_wanted(_said: Said, answered: Answered) -> str:
    if not answered.claims:
        return "Thank you. Nothing was waiting for your answer any more."
    claims = counted(answered.claims, "claim still stands", "claims still stand")
    return f"Thank you. {claims}."


QUESTIONS = {
    Purpose.DID_IT_GO: Question("answers/did_it_go.html", _show_went, _read_went, _thank_went),
    Purpose.DID_IT_COME: Question("answers/did_it_come.html", _show_came, _read_came, _thank_came),
    Purpose.SENDER_ANSWER: Question(
        "answers/sender.html", _show_sender, _read_sender, _thank_sender
    ),
    Purpose.STILL_WANTED: Question(
        "answers/still_wanted.html", _show_wanted, _read_wanted, _thank_wanted
    ),
}


def _form(kind: type[Form], sent: Sent) -> Form:
    """Give the form as it was sent, or as it is first met."""
    form = kind(sent) if sent else kind()
    if sent:
        form.validate()
    return form


def _read(kind: type[Form], sent: Sent) -> Form:
    """Read the form; what it cannot read is said above the question."""
    form = kind(sent)
    if not form.validate():
        name, errors = next(iter(form.errors.items()))
        raise NotAnsweredError(str(errors[0]), name or "")
    return form


def _days(parcel: ParcelAsked, now: datetime) -> tuple[date, ...]:
    """Give the days on which it may have come, one button each."""
    today = now.astimezone(ZoneInfo(parcel.receiver_zone)).date()
    first = min(parcel.arrival_from or today, today)
    last = min(max(parcel.arrival_to or today, first), today)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return tuple([*days, today] if today not in days else days)[:MOST_DAYS_SHOWN]


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
