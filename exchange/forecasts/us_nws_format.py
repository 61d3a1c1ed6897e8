"""The format of the grid of the United States National Weather Service: layers of merged spans."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from statistics import fmean
from typing import Any

from exchange.domain.circle.earth import distance_km
from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import US_NWS, Forecast
from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.forecasts.hours import Hours, readings_of
from exchange.forecasts.intervals import hours_of, interval, lowered
from exchange.words.weather.weather import lack_sentence

ATTRIBUTION = "Forecast: United States National Weather Service."

_CELSIUS = "wmoUnit:degC"
_WIND_FACTORS = {"wmoUnit:km_h-1": 1 / 3.6, "wmoUnit:m_s-1": 1.0}
_LAYERS = ("temperature", "minTemperature", "dewpoint", "windSpeed", "skyCover")
_FRESH_FOR = timedelta(hours=3)
_FARTHEST_KM = 50.0


def grid_path(square: Mapping[str, Any]) -> str:
    """Give the path of the grid from the answer about a point.

    Raises
    ------
    AnswerError
        when it names no grid square
    """
    properties = square.get("properties")
    if not isinstance(properties, dict):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    office, x, y = (properties.get(name) for name in ("gridId", "gridX", "gridY"))
    if not isinstance(office, str) or not office.isalnum():
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    if not isinstance(x, int) or not isinstance(y, int):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    return f"/gridpoints/{office}/{x},{y}"


def forecast_of(grid: Mapping[str, Any], place: Place, now: datetime) -> Forecast:
    """Read the forecast of a place from its grid.

    Every span is laid out hour by hour; the coldest hour of a span with a stated minimum is lowered
    to it.

    Raises
    ------
    AnswerError
        when it is for another place, of other days, in other units, or has no temperatures
    """
    properties = grid.get("properties")
    if not isinstance(properties, dict):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    grid_km = _distance(grid, place)
    temperature = _layer(properties, "temperature")
    if _unit(properties, "temperature") != _CELSIUS:
        raise AnswerError(ForecastFaultKind.WRONG_UNITS)
    if not temperature:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    hourly = lowered(temperature, _minima(properties))
    times = tuple(sorted(hourly))
    hours, lacks = _columns(properties, times, hourly)
    readings, more = readings_of(hours)
    if readings[-1].at < now or readings[0].at > now + timedelta(days=2):
        raise AnswerError(ForecastFaultKind.OUT_OF_DATE)
    issued = _instant(properties.get("updateTime")) or now
    return Forecast(
        place_id=place.id,
        source=US_NWS,
        issued_at=issued,
        fetched_at=now,
        expires_at=now + _FRESH_FOR,
        attribution=ATTRIBUTION,
        readings=readings,
        grid_height_m=_height(properties),
        grid_km=round(grid_km, 1),
        lacks=(*(lack_sentence(lack) for lack in lacks), *more),
    )


def _columns(
    properties: Mapping[str, Any], times: tuple[datetime, ...], hourly: Mapping[datetime, float]
) -> tuple[Hours, tuple[str, ...]]:
    dew_point = _layer(properties, "dewpoint")
    factor = _WIND_FACTORS.get(_unit(properties, "windSpeed"))
    wind = _layer(properties, "windSpeed") if factor else {}
    cloud = _layer(properties, "skyCover")
    if _unit(properties, "dewpoint") != _CELSIUS:
        dew_point = {}
    lacks = [
        lack
        for lack, layer in (("dew point", dew_point), ("wind", wind), ("cloud", cloud))
        if not layer
    ]
    if any(_span(entry) is None for name in _LAYERS for entry in _values(properties, name)):
        lacks.append("entries")
    columns = Hours(
        times,
        [hourly[at] for at in times],
        [dew_point.get(at) for at in times],
        [wind[at] * factor if factor and at in wind else None for at in times],
        [cloud.get(at) for at in times],
    )
    return columns, tuple(lacks)


def _distance(grid: Mapping[str, Any], place: Place) -> float:
    """Give how far the middle of the grid square lies from the place [km]."""
    geometry = grid.get("geometry")
    rings = geometry.get("coordinates") if isinstance(geometry, dict) else None
    try:
        corners = [(float(corner[1]), float(corner[0])) for corner in rings[0]]  # type: ignore[index]  # checked by the except below
        middle = (fmean(one[0] for one in corners), fmean(one[1] for one in corners))
    except (TypeError, ValueError, IndexError, KeyError):
        raise AnswerError(ForecastFaultKind.INCOMPLETE) from None
    apart = distance_km(middle, (place.latitude, place.longitude))
    if apart > _FARTHEST_KM:
        raise AnswerError(ForecastFaultKind.WRONG_PLACE)
    return apart


def _layer(properties: Mapping[str, Any], name: str) -> dict[datetime, float]:
    hours: dict[datetime, float] = {}
    for first, end, value in _spans(properties, name):
        for at in hours_of(first, end):
            hours[at] = min(value, hours.get(at, value)) if name == "temperature" else value
    return hours


def _minima(properties: Mapping[str, Any]) -> list[tuple[datetime, datetime, float]]:
    if _unit(properties, "minTemperature") != _CELSIUS:
        return []
    return _spans(properties, "minTemperature")


def _spans(properties: Mapping[str, Any], name: str) -> list[tuple[datetime, datetime, float]]:
    read = (_span(entry) for entry in _values(properties, name))
    return [
        (first, end, float(value))
        for first, end, value in (span for span in read if span is not None)
        if isinstance(value, int | float) and not isinstance(value, bool)
    ]


def _span(entry: Any) -> tuple[datetime, datetime, Any] | None:
    """Give an entry of a layer, or None where it cannot be read."""
    try:
        return (*interval(str(entry["validTime"])), entry["value"])
    except (KeyError, TypeError, ValueError):
        return None


def _values(properties: Mapping[str, Any], name: str) -> list[Any]:
    layer = properties.get(name)
    values = layer.get("values") if isinstance(layer, dict) else None
    return values if isinstance(values, list) else []


def _unit(properties: Mapping[str, Any], name: str) -> str:
    layer = properties.get(name)
    unit = layer.get("uom") if isinstance(layer, dict) else None
    return unit if isinstance(unit, str) else ""


def _height(properties: Mapping[str, Any]) -> float | None:
    elevation = properties.get("elevation")
    value = elevation.get("value") if isinstance(elevation, dict) else None
    return float(value) if isinstance(value, int | float) else None


def _instant(value: Any) -> datetime | None:
    try:
        return datetime.fromisoformat(str(value)).astimezone(UTC)
    except ValueError:
        return None
