"""The format of MET Norway's location forecast, complete: GeoJSON with a series of instants."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from exchange.domain.circle.earth import distance_km
from exchange.domain.circle.place import Place
from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.forecasts.hours import Hours
from exchange.forecasts.intervals import filled, lowered

FARTHEST_POINT_KM = 50.0
_SIX_HOURS = timedelta(hours=6)


def hours_of_answer(body: Any, place: Place) -> tuple[Hours, tuple[str, ...]]:
    """Give the columns of an answer, hour by hour, and what it lacks by kind.

    Where later days come in steps of six hours, the hours between lie on straight lines, and the
    coldest of them is lowered to the minimum stated for the six hours.

    Raises
    ------
    AnswerError
        when it is for another place, in other units, or has no temperatures
    """
    properties = _mapping(_mapping(body).get("properties"))
    _check_place(_mapping(body), place)
    units = _mapping(_mapping(properties.get("meta")).get("units"))
    if units.get("air_temperature") != "celsius":
        raise AnswerError(ForecastFaultKind.WRONG_UNITS)
    series = properties.get("timeseries")
    if not isinstance(series, list) or not series:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    details = _details_by_instant(series)
    temperatures = _figures(details, "air_temperature")
    if not temperatures:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    hourly = lowered(filled(temperatures), _stated_minima(series))
    times = tuple(sorted(hourly))
    lacks = tuple(
        lack
        for lack, name in (
            ("dew point", "dew_point_temperature"),
            ("wind", "wind_speed"),
            ("cloud", "cloud_area_fraction"),
        )
        if not _figures(details, name)
    )
    if len(hourly) > len(temperatures):
        lacks += ("coarse",)
    return (
        Hours(
            times,
            [hourly[at] for at in times],
            _column(details, "dew_point_temperature", times),
            _column(details, "wind_speed", times) if units.get("wind_speed") == "m/s" else None,
            _column(details, "cloud_area_fraction", times),
        ),
        lacks,
    )


def _check_place(body: Mapping[str, Any], place: Place) -> None:
    where = _mapping(body.get("geometry")).get("coordinates")
    if not isinstance(where, list) or len(where) < 2:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    longitude, latitude = _number(where[0]), _number(where[1])
    if latitude is None or longitude is None:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    if distance_km((latitude, longitude), (place.latitude, place.longitude)) > FARTHEST_POINT_KM:
        raise AnswerError(ForecastFaultKind.WRONG_PLACE)


def height_of(body: Any) -> float | None:
    """Give the height the answer is for [m]."""
    where = _mapping(_mapping(body).get("geometry")).get("coordinates")
    return _number(where[2]) if isinstance(where, list) and len(where) > 2 else None


def _details_by_instant(series: list[Any]) -> dict[datetime, Mapping[str, Any]]:
    found: dict[datetime, Mapping[str, Any]] = {}
    for entry in series:
        data = _mapping(_mapping(entry).get("data"))
        details = _mapping(_mapping(data.get("instant")).get("details"))
        at = _instant(_mapping(entry).get("time"))
        known = _number(_mapping(found.get(at, {})).get("air_temperature"))
        here = _number(details.get("air_temperature"))
        if known is None or (here is not None and here < known):
            found[at] = details
    return found


def _stated_minima(series: list[Any]) -> list[tuple[datetime, datetime, float]]:
    minima = []
    for entry in series:
        data = _mapping(_mapping(entry).get("data"))
        details = _mapping(_mapping(data.get("next_6_hours", {})).get("details", {}))
        minimum = _number(details.get("air_temperature_min"))
        if minimum is not None:
            at = _instant(_mapping(entry).get("time"))
            minima.append((at, at + _SIX_HOURS, minimum))
    return minima


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
