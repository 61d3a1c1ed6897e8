"""Figures given for spans of several hours, laid out hour by hour."""

import re
from collections.abc import Collection, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from itertools import pairwise

_DURATION = re.compile(r"P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?)?")
HOUR = timedelta(hours=1)
_LONGEST_STEP = timedelta(hours=6)


def duration(text: str) -> timedelta:
    """Give an ISO 8601 duration of days, hours and minutes ("PT3H", "P1DT6H").

    Raises
    ------
    ValueError
        for anything else
    """
    found = _DURATION.fullmatch(text)
    if found is None or text in ("P", "PT") or text.endswith("T"):
        raise ValueError("This is no duration in days, hours and minutes.")
    days, hours, minutes = (int(part or 0) for part in found.groups())
    return timedelta(days=days, hours=hours, minutes=minutes)


def interval(text: str) -> tuple[datetime, datetime]:
    """Give the first instant and the end of "2019-07-04T18:00:00+00:00/PT3H", in UTC.

    Raises
    ------
    ValueError
        for anything else
    """
    start, _slash, length = text.partition("/")
    first = datetime.fromisoformat(start).astimezone(UTC)
    return first, first + duration(length)


def hours_of(first: datetime, end: datetime) -> Iterator[datetime]:
    """Give the whole hours from the first instant up to, but not including, the end."""
    at = first.replace(minute=0, second=0, microsecond=0)
    while at < end:
        yield at
        at += HOUR


def filled(
    instants: dict[datetime, float], after: Collection[datetime] | None = None
) -> dict[datetime, float]:
    """Give every hour between figures up to six hours apart, on straight lines between them.

    Parameters
    ----------
    instants : figures by hour
    after : the instants after which hours are drawn; None for all of them
    """
    hours = dict(instants)
    for at, following in pairwise(sorted(instants)):
        if following - at > _LONGEST_STEP or (after is not None and at not in after):
            continue
        for between in hours_of(at + HOUR, following):
            share = (between - at) / (following - at)
            hours[between] = instants[at] + share * (instants[following] - instants[at])
    return hours


def lowered(
    hours: dict[datetime, float], minima: Sequence[tuple[datetime, datetime, float]]
) -> dict[datetime, float]:
    """Lower the coldest hour of each span to the minimum stated for it, where that is colder.

    Parameters
    ----------
    hours : figures by hour [degrees C]
    minima : first instant, last instant (both counted) and minimum of each span
    """
    result = dict(hours)
    for first, last, minimum in minima:
        inside = [at for at in hours if first <= at <= last]
        if not inside or min(result[at] for at in inside) <= minimum:
            continue
        result[min(inside, key=lambda at: (hours[at], at))] = minimum
    return result
