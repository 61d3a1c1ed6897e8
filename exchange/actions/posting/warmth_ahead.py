"""How the usual nights come up to the warmth a parcel waits for."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from exchange.actions.posting.parcels import plan_of
from exchange.actions.weather.outlooks import known_of
from exchange.domain.circle.place import Place
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import Line
from exchange.domain.posting.reasons import PostingReason, Topic
from exchange.domain.posting.warmth import tenderest
from exchange.domain.weather.climate import Climate, UsualNight, climate_at, usual_night
from exchange.records import PLACES, Tx
from exchange.records.rows.posting import ParcelRow

WEEKS_SHOWN = 10
_BEFORE_WARM = 7


@dataclass(frozen=True, slots=True)
class UsualWeek:
    """The usual night in the middle of a week that begins on a Monday."""

    monday: date
    night: UsualNight


@dataclass(frozen=True, slots=True)
class WaitForWarmth:
    """A parcel that waits for warmth, and how the usual nights come up to it.

    Attributes
    ----------
    limit_c : nights at both ends must keep above it [degrees C]
    species : the tenderest in it
    warm_from : Monday of the first week warm enough, None where no week is
    place : the colder end
    """

    limit_c: float
    species: str
    warm_from: date | None
    place: Place
    weeks: tuple[UsualWeek, ...]


def wait_for_warmth(
    tx: Tx, circle_id: int, entry: ParcelRow, lines: Sequence[Line], today: date
) -> WaitForWarmth | None:
    """Give how the usual nights come up to what a parcel waits for; None where it waits for no warmth."""
    plan = plan_of(entry)
    reason = _warm_reason(plan) if plan else None
    if reason is None or not lines or entry.posting_day is not None:
        return None
    ends = [
        PLACES.get(tx, circle_id, key) for key in (entry.sender_place_id, entry.receiver_place_id)
    ]
    known = known_of(tx, circle_id, ends)
    usual = [(place, known[place.id].climate) for place in ends]
    courses = [
        (place, _weeks(climate_at(place, climate), _first(reason.first, today)))
        for place, climate in usual
        if climate is not None
    ]
    if len(courses) < len(ends):
        return None
    place, weeks = min(courses, key=lambda one: sum(week.night.mean_c for week in one[1]))
    limit_c, species = tenderest(lines)
    return WaitForWarmth(limit_c, species, reason.first, place, weeks)


def _warm_reason(plan: ParcelPlan) -> PostingReason | None:
    return next((one for one in plan.reasons if one.about is Topic.WARM_FROM), None)


def _first(warm_from: date | None, today: date) -> date:
    """Give the first Monday shown: this week, or so late that the first warm week is seen."""
    monday = today - timedelta(days=today.weekday())
    return monday if warm_from is None else max(monday, warm_from - timedelta(weeks=_BEFORE_WARM))


def _weeks(climate: Climate, first: date) -> tuple[UsualWeek, ...]:
    mondays: Sequence[date] = [first + timedelta(weeks=n) for n in range(WEEKS_SHOWN)]
    return tuple(
        UsualWeek(monday, usual_night(climate, monday + timedelta(days=3))) for monday in mondays
    )
