"""Night minima and day highs out of hourly readings: noon to noon in the place's zone."""

from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from exchange.domain.weather.forecast import Reading

COVERAGE = 0.8
"""Share of a night's hours that must be there before a minimum is named (judgement)."""

LONGEST_GAP = timedelta(hours=3)
"""Longest gap between 18:00 and 09:00: a longer one could hide the coldest hour (judgement)."""

_LATEST_BEGIN = time(22)


def night_bounds(day: date, zone: str) -> tuple[datetime, datetime]:
    """Give the instants, in UTC, of noon of the day and of the next day in the zone.

    On the nights the clock changes they lie 23 or 25 hours apart.
    """
    return _instant(day, time(12), zone), _instant(day + timedelta(days=1), time(12), zone)


def night_minima(
    readings: Iterable[Reading],
    zone: str,
    member: int | None = None,
    *,
    whole: bool = True,
) -> dict[date, float]:
    """Give the lowest reading of each night that is well enough covered.

    A night is named by the day on which it begins. At least 80 % of its hours must be there, and
    between 18:00 and 09:00 no gap may be longer than three hours. The first night may be under way
    already: then the hours before the first reading do not count, if that is not after 22:00.

    Parameters
    ----------
    readings : in any order; an hour given twice counts once, as the colder
    zone : IANA name
    member : which ensemble member, None for the plain forecast
    whole : whether a night must be well enough covered; the lowest reading of an incomplete night
        only says that the night is at least so cold

    Returns
    -------
    minima : by the day on which the night begins [degrees C]
    """
    hours = _by_hour(readings, member)
    if not hours:
        return {}
    instants = sorted(hours)
    first, last = _night_of(instants[0], zone), _night_of(instants[-1], zone)
    minima = {}
    for offset in range((last - first).days + 1):
        day = first + timedelta(days=offset)
        start, end = night_bounds(day, zone)
        inside = [at for at in instants if start <= at < end]
        if inside and (not whole or _is_covered(inside, day, zone, begins=instants[0])):
            minima[day] = min(hours[at] for at in inside)
    return minima


def day_highs(
    readings: Iterable[Reading], zone: str, member: int | None = None
) -> dict[date, float]:
    """Give the highest reading of each calendar day whose hours from 11:00 to 17:00 are there."""
    hours = _by_hour(readings, member)
    days: dict[date, dict[int, float]] = {}
    for at, value in hours.items():
        local = at.astimezone(ZoneInfo(zone))
        days.setdefault(local.date(), {})[local.hour] = value
    return {
        day: max(values.values())
        for day, values in sorted(days.items())
        if all(hour in values for hour in range(11, 18))
    }


def minima_by_member(readings: Iterable[Reading], zone: str) -> dict[date, dict[int, float]]:
    """Give the minima of all ensemble members for each night, in the order of their numbers.

    A member whose night is not well enough covered is not there on that night.

    Parameters
    ----------
    readings : in any order; those of no member are left out
    zone : IANA name

    Returns
    -------
    minima : by the day on which the night begins, then by the member's number [degrees C]
    """
    grouped: dict[int, list[Reading]] = {}
    for reading in readings:
        if reading.member is not None:
            grouped.setdefault(reading.member, []).append(reading)
    nights: dict[date, dict[int, float]] = {}
    for member in sorted(grouped):
        for day, minimum in night_minima(grouped[member], zone, member).items():
            nights.setdefault(day, {})[member] = minimum
    return {day: nights[day] for day in sorted(nights)}


def _by_hour(readings: Iterable[Reading], member: int | None) -> dict[datetime, float]:
    hours: dict[datetime, float] = {}
    for reading in readings:
        if reading.member != member:
            continue
        at = reading.at.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
        hours[at] = min(reading.temperature_c, hours.get(at, reading.temperature_c))
    return hours


def _is_covered(inside: Sequence[datetime], day: date, zone: str, *, begins: datetime) -> bool:
    start, end = night_bounds(day, zone)
    if start < begins <= _instant(day, _LATEST_BEGIN, zone):
        start = begins
    wanted = (end - start) / timedelta(hours=1)
    if len(inside) < COVERAGE * wanted:
        return False
    dusk = max(start, _instant(day, time(18), zone))
    dawn = _instant(day + timedelta(days=1), time(9), zone)
    marks = [dusk, *(at for at in inside if dusk <= at <= dawn), dawn]
    return all(b - a <= LONGEST_GAP for a, b in pairwise(marks))


def _night_of(at: datetime, zone: str) -> date:
    return (at.astimezone(ZoneInfo(zone)).replace(tzinfo=None) - timedelta(hours=12)).date()


def _instant(day: date, clock: time, zone: str) -> datetime:
    return datetime.combine(day, clock, ZoneInfo(zone)).astimezone(UTC)
