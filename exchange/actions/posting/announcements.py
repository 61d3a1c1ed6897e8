"""What is kept of an announced day: when it was told, on what it rests, who chose it, what is asked of them."""

from datetime import date, datetime
from typing import Any, TypedDict

from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.announced import Ground
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.weather.forecast import WeatherSource
from exchange.records.columns import to_plain
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting import posting_days as words


class _Asked(TypedDict):
    """The question to whoever chose a day."""

    question: Ground | None
    proposed_day: date | None
    day_kept: bool


class Announced(_Asked):
    """The columns of a parcel that say what was announced."""

    state: ParcelState
    announced_day: date | None
    announced_way_id: int | None
    announced_at: datetime | None
    announced_loss: float | None
    day_chosen_by: int | None
    against_advice: bool
    nights_missing: int | None
    weather_issued_at: datetime | None


class Planned(Announced):
    """The columns of a parcel that a plan gives."""

    way_id: int | None
    posting_day: date | None
    arrival_from: date | None
    arrival_to: date | None
    loss_chance: float | None
    held: bool
    weather_source: WeatherSource
    reasons: tuple[str, ...]
    plan: dict[str, Any]
    answer: PostingAnswer
    waiting_since: date | None


NOTHING_ASKED: _Asked = {"question": None, "proposed_day": None, "day_kept": False}
NOTHING_ANNOUNCED: Announced = {
    "state": ParcelState.PLANNED,
    "announced_day": None,
    "announced_way_id": None,
    "announced_at": None,
    "announced_loss": None,
    "day_chosen_by": None,
    "against_advice": False,
    "nights_missing": None,
    "weather_issued_at": None,
    **NOTHING_ASKED,
}


def planned_columns(one: ParcelPlan, before: ParcelRow, today: date, now: datetime) -> Planned:
    """Give what is kept of a parcel after it was planned."""
    waits = one.answer is PostingAnswer.WAIT
    told: Announced = announced_columns(one, before, now)
    return {
        **told,
        "way_id": one.way_id,
        "posting_day": one.day,
        "arrival_from": one.arrival_from,
        "arrival_to": one.arrival_to,
        "loss_chance": one.loss_chance,
        "held": one.held,
        "weather_source": one.weather_source,
        "reasons": words.reasons(one),
        "plan": to_plain(one),
        "answer": one.answer,
        "waiting_since": (before.waiting_since or today) if waits else None,
    }


def announced_columns(plan: ParcelPlan, before: ParcelRow, now: datetime) -> Announced:
    """Give what is kept of a parcel's day after it was planned."""
    if plan.day is None or not plan.announced:
        return NOTHING_ANNOUNCED
    stands = before.announced_day == plan.day
    return {
        "state": ParcelState.ANNOUNCED,
        "announced_day": plan.day,
        "announced_way_id": plan.way_id,
        "announced_at": before.announced_at if stands else now,
        "announced_loss": plan.told_loss,
        "day_chosen_by": before.day_chosen_by if stands else None,
        "against_advice": before.against_advice and stands,
        "nights_missing": plan.known.missing if plan.known else None,
        "weather_issued_at": plan.known.issued_at if plan.known else None,
        **_asked(plan, before),
    }


def chosen_columns(
    member_id: int | None, day: date, way_id: int | None, loss: float | None, now: datetime
) -> Announced:
    """Give what is kept of a day that a person chose."""
    return {
        **NOTHING_ANNOUNCED,
        "state": ParcelState.ANNOUNCED,
        "announced_day": day,
        "announced_way_id": way_id,
        "announced_at": now,
        "announced_loss": loss,
        "day_chosen_by": member_id,
    }


def _asked(plan: ParcelPlan, before: ParcelRow) -> _Asked:
    """Keep the question to whoever chose the day.

    Once the day was kept in answer, a safer day is no news, nor is the same stop; that its chance has
    grown again is, since it is counted from the answer on.
    """
    kept = before.day_kept and before.announced_day == plan.day
    if plan.asked is None:
        return {**NOTHING_ASKED, "day_kept": kept}
    ground = plan.asked.ground
    same_stop = ground is Ground.STOPPED and before.question is Ground.STOPPED
    answered = kept and (ground is Ground.SAFER or same_stop)
    return {
        "question": plan.asked.ground,
        "proposed_day": plan.asked.to_day,
        "day_kept": answered,
    }
