"""Night minima and day highs out of hourly readings: noon to noon in the place's zone."""

from collections.abc import Collection, Iterable
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from exchange.domain.weather.forecast import Reading

LATEST_BEGIN = time(22)
"""A night is still whole when its forecast was fetched under way, up to this hour (judgement)."""

HOURLY = timedelta(hours=1)
"""The step in which every source's readings are laid out [h]."""


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
    fetched_at: datetime | None = None,
) -> dict[date, float]:
    """Give the lowest reading of each night of which every hour is there.

    A night is named by the day on which it begins. The first may be under way already when the forecast is
    fetched: then the hours past by that time do not count, if its first reading is not after 22:00.

    Parameters
    ----------
    readings : in any order; an hour given twice counts once, as the colder
    zone : IANA name
    member : which ensemble member, None for the plain forecast
    whole : whether every hour must be there; the lowest reading of an incomplete night only says that
        the night is at least so cold
    fetched_at : None where every hour counts

    Returns
    -------
    minima : by the day on which the night begins [degrees C]
    """
    hours = _by_hour(readings, member)
    if not hours:
        return {}
    instants = sorted(hours)
    first, last = _night_of(instants[0], zone), _night_of(instants[-1], zone)
    begins = _under_way(instants[0], fetched_at)
    minima = {}
    for offset in range((last - first).days + 1):
        day = first + timedelta(days=offset)
        start, end = night_bounds(day, zone)
        inside = [at for at in instants if start <= at < end]
        if inside and (not whole or _is_whole(inside, day, zone, begins)):
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


def minima_by_member(
    readings: Iterable[Reading],
    zone: str,
    *,
    whole: bool = True,
    fetched_at: datetime | None = None,
) -> dict[date, dict[int, float]]:
    """Give the minima of all ensemble members for each night, in the order of their numbers.

    A member with hours missing from a night is not there on that night.

    Parameters
    ----------
    readings : in any order; those of no member are left out
    zone : IANA name
    whole, fetched_at : as for `night_minima`

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
        minima = night_minima(grouped[member], zone, member, whole=whole, fetched_at=fetched_at)
        for day, minimum in minima.items():
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


def _under_way(first: datetime, fetched_at: datetime | None) -> datetime | None:
    """Give the first reading where only hours that were past when it was fetched come before it."""
    return first if fetched_at is not None and first <= fetched_at + HOURLY else None


def _is_whole(inside: Collection[datetime], day: date, zone: str, begins: datetime | None) -> bool:
    start, end = night_bounds(day, zone)
    if begins is not None and start < begins <= _instant(day, LATEST_BEGIN, zone):
        start = begins
    first = start.replace(minute=0)
    if first < start:
        first += HOURLY
    return len(inside) >= -((first - end) // HOURLY)


def _night_of(at: datetime, zone: str) -> date:
    return (at.astimezone(ZoneInfo(zone)).replace(tzinfo=None) - timedelta(hours=12)).date()


def _instant(day: date, clock: time, zone: str) -> datetime:
    return datetime.combine(day, clock, ZoneInfo(zone)).astimezone(UTC)
