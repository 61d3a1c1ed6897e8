"""How long the post takes: Dirichlet odds walked over the days on which it works, weekdays less closures."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import islice, takewhile

from exchange.domain.posting.way import Carriage, Way

Closures = Mapping[date, str]
"""Days without post in one area, with the name of each (a holiday, or a closure typed in)."""

SUNDAY = 6
ONE_DAY = timedelta(days=1)


class NoWorkingDayError(ValueError):
    """No weekday is left on which the post works."""


def is_open(day: date, weekdays: frozenset[int], closures: Closures) -> bool:
    """Say whether the post works on the day."""
    return day.weekday() in weekdays and day not in closures


def open_days(after: date, weekdays: frozenset[int], closures: Closures) -> Iterator[date]:
    """Walk the open days after a day, in order.

    Raises
    ------
    NoWorkingDayError
        when no weekday is given, or a whole year is closed
    """
    if not weekdays:
        raise NoWorkingDayError("A way of sending needs at least one weekday.")
    day, last = after, after + timedelta(days=366)
    while day < last:
        day += ONE_DAY
        if is_open(day, weekdays, closures):
            last = day + timedelta(days=366)
            yield day
    raise NoWorkingDayError("This way of sending is closed for a whole year.")


def rest_days(first: date, last: date, closures: Closures) -> tuple[date, ...]:
    """List the Sundays and closures from the first to the last day, both counted."""
    span = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return tuple(day for day in span if day.weekday() == SUNDAY or day in closures)


@dataclass(frozen=True, slots=True)
class ArrivalChance:
    """One day on which a parcel may come, with its chance."""

    day: date
    chance: float


class NoOddsError(ValueError):
    """A postal way has no odds."""


def delivery_odds(way: Way, answers: Sequence[int] = ()) -> tuple[float, ...]:
    """Give the chance of delivery on the first, second ... delivery day after hand-over.

    The way's weights are a Dirichlet prior; the circle's own answers, counted by delivery day, are
    added to them and the mean of the posterior is taken (an answer beyond the last weight counts
    with the last).

    Raises
    ------
    NoOddsError
        when a postal way has no positive weight
    """
    if not way.odds or sum(way.odds) <= 0:
        raise NoOddsError(f"No delivery odds are known for {way.name}.")
    weights = list(way.odds)
    for place, count in enumerate(answers):
        weights[min(place, len(weights) - 1)] += count
    total = sum(weights)
    return tuple(weight / total for weight in weights)


def arrivals(
    way: Way,
    posted: date,
    closures: Closures,
    *,
    answers: Sequence[int] = (),
    extra_day: bool = False,
) -> tuple[ArrivalChance, ...]:
    """Walk a parcel handed over on a day to the days on which it may come.

    Parameters
    ----------
    closures : days without delivery at the receiver's
    answers : parcels of this way that came on the first, second ... delivery day [parcels]
    extra_day : the post usually takes a delivery day longer to this place

    Returns
    -------
    tuple of ArrivalChance
        chances add up to 1; by hand it is the day itself
    """
    if way.carriage is Carriage.BY_HAND:
        return (ArrivalChance(posted, 1.0),)
    odds = delivery_odds(way, answers)
    walk = islice(open_days(posted, way.delivery_weekdays, closures), int(extra_day), None)
    return tuple(ArrivalChance(day, chance) for day, chance in zip(walk, odds, strict=False))


def chance_next_day(coming: Sequence[ArrivalChance], posted: date) -> float:
    """Give the chance that the parcel comes on the very next day."""
    return sum(arrival.chance for arrival in coming if arrival.day == posted + ONE_DAY)


def chance_over_rest(coming: Sequence[ArrivalChance], posted: date, closures: Closures) -> float:
    """Give the chance that the parcel is still in the post over a Sunday or a closure."""
    rests = rest_days(posted + ONE_DAY, coming[-1].day, closures)
    if not rests:
        return 0.0
    return sum(arrival.chance for arrival in coming if arrival.day > rests[0])


def expected_days(coming: Sequence[ArrivalChance], share: float = 0.95) -> tuple[date, date]:
    """Give the first day it may come, and the day by which the given share has come."""
    total, last = 0.0, coming[-1].day
    for arrival in coming:
        total += arrival.chance
        if total >= share - 1e-12:  # chances that add up to the share but for rounding
            last = arrival.day
            break
    return coming[0].day, last


def came_on(posted: date, arrived: date, way: Way, closures: Closures) -> int:
    """Count which delivery day an arrival was, 0 for the first: what an answer teaches."""
    walk = open_days(posted, way.delivery_weekdays, closures)
    return len(tuple(takewhile(lambda day: day < arrived, walk)))
