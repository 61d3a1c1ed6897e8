"""Builders of places as the weather sees them, readings, forecasts and climates."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from exchange.domain.circle.place import Lie, Place
from exchange.domain.weather.climate import Climate, spreads
from exchange.domain.weather.forecast import Forecast, Reading
from exchange.domain.weather.frost import chances_from
from exchange.domain.weather.sun import sun_times

SHAWBURY_MINIMA = (1.15, 1.18, 2.26, 3.92, 6.75, 9.63, 11.51, 11.39, 9.27, 6.62, 3.5, 1.33)
SHAWBURY_MAXIMA = (7.45, 8.11, 10.35, 13.2, 16.33, 19.11, 21.13, 20.67, 18.11, 14.17, 10.32, 7.73)
SHAWBURY_FROSTS = (11.67, 10.77, 8.23, 4.37, 0.93, 0.03, 0.0, 0.0, 0.0, 1.77, 6.67, 11.2)
SHAWBURY_ANY = (1.0, 1.0, 1.0, 1.0, 0.5, 0.033, 0.0, 0.0, 0.0, 0.567, 1.0, 0.967)

NOW = datetime(2026, 4, 18, 9, tzinfo=UTC)


@dataclass(frozen=True)
class Pin:
    """The few things of a place the weather asks for."""

    id: int = 1
    zone: str = "Europe/London"
    height_m: float | None = 72.0
    lie: str = "open"


def a_place(place_id=1, latitude=52.37, longitude=-2.72, *, height_m=103.0, **changes):
    values = {
        "household_id": 1,
        "name": "home",
        "town": "Ludlow",
        "county": "Shropshire",
        "country": "GB",
        "subdivision": "ENG",
        "zone": "Europe/London",
        "lie": Lie.OPEN,
    } | changes
    return Place(id=place_id, latitude=latitude, longitude=longitude, height_m=height_m, **values)


def daylight(latitude, day):
    """The hours from sunrise to sunset on the meridian of Greenwich."""
    rises, sets = sun_times(latitude, 0.0, day)
    return (sets - rises) / timedelta(hours=1)


def hourly(temperatures, *, start=datetime(2026, 4, 18, tzinfo=UTC), member=None, step=1):
    return tuple(
        Reading(start + timedelta(hours=step * hour), temperature, member=member)
        for hour, temperature in enumerate(temperatures)
        if temperature is not None
    )


def a_forecast(readings, *, place_id=1, issued_at=NOW, grid_height_m=72.0, **changes):
    values = {
        "source": "Open-Meteo",
        "fetched_at": issued_at,
        "expires_at": issued_at + timedelta(hours=3),
        "attribution": "Weather data by Open-Meteo.com (CC BY 4.0).",
    } | changes
    return Forecast(
        place_id=place_id,
        issued_at=issued_at,
        readings=tuple(readings),
        grid_height_m=grid_height_m,
        **values,
    )


def a_climate(*, any_frost=SHAWBURY_ANY, height_m=72.0, **changes):
    values = {
        "name": "Shawbury",
        "minimum_c": SHAWBURY_MINIMA,
        "maximum_c": SHAWBURY_MAXIMA,
        "spread_k": spreads(SHAWBURY_MINIMA, SHAWBURY_FROSTS),
        "base_period": "1991-2020",
        "frost_days": SHAWBURY_FROSTS,
    } | changes
    return Climate(any_frost=any_frost, height_m=height_m, **values)


def chance_of_frost_from(climate, day):
    """The chance that air frost comes on or after the day, as the safe date has it."""
    return chances_from(climate)[day.replace(year=2001).timetuple().tm_yday - 1]
