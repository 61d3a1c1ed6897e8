"""Days on which the post takes in and delivers: weekdays less closures."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

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
