"""The format of Open-Meteo: one object for one place, a list in the order asked for several."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from exchange.domain.circle.earth import distance_km
from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.forecasts.hours import Column, Hours, readings_of
from exchange.words.weather.weather import lack_sentence

ATTRIBUTION = "Weather data by Open-Meteo.com (CC BY 4.0)."

HOURLY = ("temperature_2m", "dew_point_2m", "wind_speed_10m", "cloud_cover")

FARTHEST_GRID_KM = 50.0
"""A cell centre farther off than this is taken for another place (judgement) [km]."""

CELSIUS = "°C"
UNKNOWN_UNITS = (None, "", "undefined")
"""What the service writes for a column that a model does not have."""

_TO_METRES_PER_SECOND = {"km/h": 1 / 3.6, "m/s": 1.0, "mp/h": 0.44704, "kn": 0.514444}
_FRESH_FOR = timedelta(hours=3)
_LATEST_BEGIN = timedelta(days=2)


def split_answer(body: Any, count: int) -> list[Mapping[str, Any]]:
    """Give one object per place, in the order asked.

    Raises
    ------
    AnswerError
        when the body is neither an object nor a list of as many objects as places
    """
    parts = body if isinstance(body, list) else [body]
    if len(parts) != count or not all(isinstance(part, dict) for part in parts):
        raise AnswerError(ForecastFaultKind.UNREADABLE)
    return parts


def forecast_of(
    part: Mapping[str, Any],
    place: Place,
    now: datetime,
    *,
    source: str,
    issued_at: datetime | None = None,
) -> Forecast:
    """Read the forecast of one place.

    Parameters
    ----------
    part : the object of this place
    now : instant of fetching
    source : how the source is named
    issued_at : when it was issued; by default now, as the service does not tell

    Raises
    ------
    AnswerError
        when it is for another place, of other days, in other units, or has no temperatures
    """
    grid_km = _distance(part, place)
    hours, lacks = _hours_of(part)
    readings, more = readings_of(hours)
    lacks += more
    first, last = readings[0].at, readings[-1].at
    if last < now or first > now + _LATEST_BEGIN:
        raise AnswerError(ForecastFaultKind.OUT_OF_DATE)
    issued = issued_at or now
    return Forecast(
        place_id=place.id,
        source=source,
        issued_at=issued,
        fetched_at=now,
        expires_at=max(issued, now) + _FRESH_FOR,
        attribution=ATTRIBUTION,
        readings=readings,
        grid_height_m=_number(part.get("elevation")),
        grid_km=round(grid_km, 1),
        lacks=lacks,
    )


def first_hour(part: Mapping[str, Any]) -> datetime:
    """Give the first instant an answer speaks of.

    Raises
    ------
    AnswerError
        when it names none
    """
    return times_of(part)[0]


def _distance(part: Mapping[str, Any], place: Place) -> float:
    """Give how far the point answered for lies from the place [km]."""
    latitude, longitude = _number(part.get("latitude")), _number(part.get("longitude"))
    if latitude is None or longitude is None:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    apart = distance_km((latitude, longitude), (place.latitude, place.longitude))
    if apart > FARTHEST_GRID_KM:
        raise AnswerError(ForecastFaultKind.WRONG_PLACE)
    return apart


def _hours_of(part: Mapping[str, Any]) -> tuple[Hours, tuple[str, ...]]:
    hourly = _section(part, "hourly")
    units = _section(part, "hourly_units")
    if units.get("temperature_2m") != CELSIUS:
        raise AnswerError(ForecastFaultKind.WRONG_UNITS)
    times = times_of(part)
    lacks: list[str] = []
    temperature = column(hourly, "temperature_2m", len(times))
    if temperature is None:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    dew_point = column(hourly, "dew_point_2m", len(times))
    if dew_point is None or units.get("dew_point_2m") != CELSIUS:
        dew_point = None
        lacks.append("dew point")
    wind = column(hourly, "wind_speed_10m", len(times))
    factor = _TO_METRES_PER_SECOND.get(str(units.get("wind_speed_10m")))
    if wind is None or factor is None:
        wind = None
        lacks.append("wind")
    else:
        wind = [None if value is None else value * factor for value in wind]
    cloud = column(hourly, "cloud_cover", len(times))
    if cloud is None:
        lacks.append("cloud")
    told = tuple(lack_sentence(lack) for lack in lacks)
    return Hours(tuple(times), temperature, dew_point, wind, cloud), told


def _section(part: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    section = part.get(name)
    if not isinstance(section, dict):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    return section


def times_of(part: Mapping[str, Any]) -> list[datetime]:
    """Give the instants of an answer's hours.

    Raises
    ------
    AnswerError
        when there are none, or they cannot be read
    """
    raw = _section(part, "hourly").get("time")
    offset = _number(part.get("utc_offset_seconds", 0))
    if not isinstance(raw, list) or not raw or offset is None:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    try:
        return [_instant(value, timedelta(seconds=offset)) for value in raw]
    except (ValueError, OverflowError, OSError):
        raise AnswerError(ForecastFaultKind.UNREADABLE) from None


def _instant(value: Any, offset: timedelta) -> datetime:
    """Give the instant; clock strings carry one offset for the whole answer, numbers none."""
    if isinstance(value, int) and not isinstance(value, bool):
        return datetime.fromtimestamp(value, UTC)
    return datetime.fromisoformat(str(value)).replace(tzinfo=UTC) - offset


def column(hourly: Mapping[str, Any], name: str, count: int) -> Column | None:
    """Give a column of figures, None where one is missing; None in place of a missing column."""
    values = hourly.get(name)
    if not isinstance(values, list) or len(values) != count:
        return None
    return [_number(value) for value in values]


def _number(value: Any) -> float | None:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return float(value) if is_number else None
