"""The format of MET Norway's location forecast, complete: GeoJSON with a series of instants."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from exchange.domain.circle.earth import distance_km
from exchange.domain.circle.place import Place
from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.forecasts.hours import Hours
from exchange.forecasts.intervals import filled, lowered

FARTHEST_POINT_KM = 50.0
_SIX_HOURS = timedelta(hours=6)
_OTHERS = (
    ("dew_point_temperature", "celsius"),
    ("wind_speed", "m/s"),
    ("cloud_area_fraction", "%"),
)


def hours_of_answer(body: Any) -> tuple[Hours, tuple[str, ...]]:
    """Give the columns of an answer, hour by hour, and what it lacks by kind.

    Where later days come in steps of six hours, the hours between lie on straight lines, and the
    coldest of them is lowered to the minimum stated for the six hours; where none is stated, they are left
    out. An entry that cannot be read is left out by itself.

    Raises
    ------
    AnswerError
        when it is in other units, or has no temperatures
    """
    properties = _mapping(_mapping(body).get("properties"))
    units = _mapping(_mapping(properties.get("meta")).get("units"))
    if units.get("air_temperature") != "celsius":
        raise AnswerError(ForecastFaultKind.WRONG_UNITS)
    series = properties.get("timeseries")
    if not isinstance(series, list):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    entries = [entry for one in series if (entry := _entry(one)) is not None]
    details = _details_by_instant(entries)
    temperatures = _figures(details, "air_temperature")
    if not temperatures:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    minima = _stated_minima(entries, units)
    hourly = lowered(filled(temperatures, {first for first, _last, _low in minima}), minima)
    times = tuple(sorted(hourly))
    dew_point, wind, cloud = (
        _column(details if units.get(name, unit) == unit else {}, name, times)
        for name, unit in _OTHERS
    )
    lacks = [
        lack
        for lack, column in (("dew point", dew_point), ("wind", wind), ("cloud", cloud))
        if all(figure is None for figure in column)
    ]
    if len(hourly) > len(temperatures):
        lacks.append("coarse")
    if len(hourly) < len(filled(temperatures)):
        lacks.append("minima")
    if len(entries) < len(series):
        lacks.append("entries")
    return Hours(times, [hourly[at] for at in times], dew_point, wind, cloud), tuple(lacks)


def grid_km(body: Any, place: Place) -> float:
    """Give how far the point answered for lies from the place [km].

    Raises
    ------
    AnswerError
        when it names none, or it is another place's
    """
    where = _mapping(_mapping(body).get("geometry")).get("coordinates")
    if not isinstance(where, list) or len(where) < 2:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    longitude, latitude = _number(where[0]), _number(where[1])
    if latitude is None or longitude is None:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    apart = distance_km((latitude, longitude), (place.latitude, place.longitude))
    if apart > FARTHEST_POINT_KM:
        raise AnswerError(ForecastFaultKind.WRONG_PLACE)
    return apart


def height_of(body: Any) -> float | None:
    """Give the height the answer is for [m]."""
    where = _mapping(_mapping(body).get("geometry")).get("coordinates")
    return _number(where[2]) if isinstance(where, list) and len(where) > 2 else None


@dataclass(frozen=True, slots=True)
class _Entry:
    """An instant of the series; what is not as it should be is empty."""

    at: datetime
    details: Mapping[str, Any]
    next_six_hours: Mapping[str, Any]


def _entry(value: Any) -> _Entry | None:
    """Give an entry, or None where it has no time or says nothing of the instant."""
    try:
        data = _mapping(_mapping(value).get("data"))
        details = _mapping(_mapping(data.get("instant")).get("details"))
        at = _instant(value.get("time"))
    except AnswerError:
        return None
    later = data.get("next_6_hours")
    stated = later.get("details") if isinstance(later, dict) else None
    return _Entry(at, details, stated if isinstance(stated, dict) else {})


def _details_by_instant(entries: Sequence[_Entry]) -> dict[datetime, Mapping[str, Any]]:
    found: dict[datetime, Mapping[str, Any]] = {}
    for entry in entries:
        known = _number(found.get(entry.at, {}).get("air_temperature"))
        here = _number(entry.details.get("air_temperature"))
        if known is None or (here is not None and here < known):
            found[entry.at] = entry.details
    return found


def _stated_minima(
    entries: Sequence[_Entry], units: Mapping[str, Any]
) -> list[tuple[datetime, datetime, float]]:
    if units.get("air_temperature_min", "celsius") != "celsius":
        return []
    return [
        (entry.at, entry.at + _SIX_HOURS, minimum)
        for entry in entries
        if (minimum := _number(entry.next_six_hours.get("air_temperature_min"))) is not None
    ]


def _figures(details: Mapping[datetime, Mapping[str, Any]], name: str) -> dict[datetime, float]:
    return {
        at: number
        for at, given in details.items()
        if (number := _number(given.get(name))) is not None
    }


def _column(
    details: Mapping[datetime, Mapping[str, Any]], name: str, times: tuple[datetime, ...]
) -> list[float | None]:
    hours = filled(_figures(details, name))
    return [hours.get(at) for at in times]


def _instant(value: Any) -> datetime:
    try:
        at = datetime.fromisoformat(str(value))
    except ValueError:
        raise AnswerError(ForecastFaultKind.UNREADABLE) from None
    at = at if at.tzinfo else at.replace(tzinfo=UTC)
    return at.astimezone(UTC).replace(minute=0, second=0, microsecond=0)


def _mapping(value: Any) -> Mapping[str, Any]:
    if not isinstance(value, dict):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    return value


def _number(value: Any) -> float | None:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return float(value) if is_number else None
