"""What the one-button links ask, and what an answer does."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from werkzeug.datastructures import MultiDict
from wtforms import Form

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.links import Purpose
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.not_gone import say_not_gone
from exchange.actions.posting.page_question import ParcelAsked, parcel_asked
from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.actions.sharing.sender_answer import (
    SenderAnswer,
    ToAnswer,
    answer_as_sender,
    to_answer,
)
from exchange.domain.arriving.arrival import Condition
from exchange.web.home.answer_forms import LinkArrivalForm, WentForm
from exchange.web.home.answers import QUESTIONS, Question
from exchange.web.posting.sender_form import sender_form, sender_said
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import counted

Sent = MultiDict[str, str]
MOST_DAYS_SHOWN = 6


class NotAnsweredError(RefusedError):
    """Nothing, or nothing that can be read, was answered."""


def register() -> None:
    """Let the links ask these questions."""
    QUESTIONS[Purpose.DID_IT_GO] = Question("answers/did_it_go.html", _show_went, _went)
    QUESTIONS[Purpose.DID_IT_COME] = Question("answers/did_it_come.html", _show_came, _came)
    QUESTIONS[Purpose.SENDER_ANSWER] = Question("answers/sender.html", _show_sender, _sender)


def _show_went(actor: Actor, parcel_id: int, sent: Sent, now: datetime) -> Mapping[str, Any]:
    return {"parcel": parcel_asked(actor, parcel_id), "fields": _form(WentForm, sent), "now": now}


def _went(actor: Actor, parcel_id: int, sent: Sent, now: datetime) -> str:
    parcel = parcel_asked(actor, parcel_id)
    form = _read(WentForm, sent)
    if sent.get("answer") == "not_gone":
        say_not_gone(actor, parcel_id, form["new_day"].data, now)
        return f"Thank you. {parcel.code} is still with you."
    planned = sent.get("answer") == "went"
    day = parcel.posting_day if planned else form["day"].data
    if day is None:
        raise NotAnsweredError("Give the day on which it went.", "day")
    say_posted(actor, parcel_id, day, now)
    return f"Thank you. {parcel.code} went on {dates.day(day)}."


def _show_came(actor: Actor, parcel_id: int, sent: Sent, now: datetime) -> Mapping[str, Any]:
    parcel = parcel_asked(actor, parcel_id)
    return {
        "parcel": parcel,
        "fields": _form(LinkArrivalForm, sent),
        "days": _days(parcel, now),
    }


def _came(actor: Actor, parcel_id: int, sent: Sent, now: datetime) -> str:
    parcel = parcel_asked(actor, parcel_id)
    form = _read(LinkArrivalForm, sent)
    if sent.get("answer") == "not_yet":
        raise NotAnsweredError(
            "Then nothing is noted. This link goes on working: press when it has come."
        )
    if sent.get("answer") == "never":
        say_arrived(actor, parcel_id, Arrival(_today(parcel, now), lost=True), now)
        return f"Thank you. {parcel.code} is noted as lost."
    day = _day(sent.get("on", "")) or form["day"].data
    if day is None:
        raise NotAnsweredError("Give the day on which it came.", "day")
    say_arrived(actor, parcel_id, Arrival(day, Condition(form["condition"].data)), now)
    return f"Thank you. {parcel.code} came on {dates.day(day)}."


def _show_sender(actor: Actor, parcel_id: int, sent: Sent, _now: datetime) -> Mapping[str, Any]:
    asked = _asked(actor, parcel_id)
    return {"asked": asked, "fields": _form(sender_form(asked), sent)}


def _sender(actor: Actor, parcel_id: int, sent: Sent, now: datetime) -> str:
    asked = _asked(actor, parcel_id)
    if sent.get("answer") == "all":
        answers = [SenderAnswer(one.allocation_id, one.count) for one in asked]
    else:
        answers = sender_said(_read(sender_form(asked), sent), asked)
    answer_as_sender(actor, answers, now)
    plants = sum(one.count for one in answers)
    return "Thank you. {plants} can go; the posting days follow.".format(
        plants=counted(plants, "plant", "plants")
    )


def _asked(actor: Actor, parcel_id: int) -> tuple[ToAnswer, ...]:
    """Give what is asked about a parcel, or about everything once the parcel is no more."""
    of_parcel = to_answer(actor, parcel_id) if parcel_id else ()
    return of_parcel or to_answer(actor)


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
    today = _today(parcel, now)
    first = min(parcel.arrival_from or today, today)
    last = min(max(parcel.arrival_to or today, first), today)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return tuple([*days, today] if today not in days else days)[:MOST_DAYS_SHOWN]


def _today(parcel: ParcelAsked, now: datetime) -> date:
    return now.astimezone(ZoneInfo(parcel.receiver_zone)).date()


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
