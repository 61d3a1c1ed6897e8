"""The packaged weather stations: which is nearest, and what is usual there."""

from dataclasses import dataclass
from functools import cache

from exchange.domain.circle.earth import distance_km
from exchange.domain.weather.climate import Climate, spreads
from exchange.reference.tables import rows_of

FARTHEST_KM = 100.0
"""Beyond this the climate of a place is unknown (judgement)."""

FEWEST_YEARS = 20
BASE_PERIOD = "1991-2020"

_OWN_NAMES = {
    "newtonrigg": "Newton Rigg",
    "rossonwye": "Ross-on-Wye",
    "suttonbonington": "Sutton Bonington",
    "wickairport": "Wick Airport",
    "dublin_airport": "Dublin Airport",
    "knmi_hoogeveen": "Hoogeveen",
    "knmi_hupsel": "Hupsel",
    "knmi_herwijnen": "Herwijnen",
}


@dataclass(frozen=True, slots=True)
class Station:
    """A weather station and its monthly normals.

    Attributes
    ----------
    minimum_c, maximum_c : monthly means of night minima and day highs, shape (12,) [degrees C]
    frost_days : monthly means of nights below 0, shape (12,) [nights]
    any_frost : chance of at least one such night in each month, shape (12,)
    years : fewest years behind any month [years]
    """

    name: str
    latitude: float
    longitude: float
    height_m: float
    minimum_c: tuple[float, ...]
    maximum_c: tuple[float, ...]
    frost_days: tuple[float, ...]
    any_frost: tuple[float, ...]
    years: int
    attribution: str


@cache
def stations() -> tuple[Station, ...]:
    """Give the packaged stations with at least 20 years behind every month."""
    risks: dict[str, dict[int, float]] = {}
    for row in rows_of("station_frost_risk.csv"):
        risks.setdefault(row["station"], {})[int(row["month"])] = float(row["p_any_air_frost"])
    months: dict[str, list[dict[str, str]]] = {}
    for row in rows_of("station_normals.csv"):
        months.setdefault(row["station"], []).append(row)
    read = (_station(name, rows, risks[name]) for name, rows in months.items())
    return tuple(station for station in read if station.years >= FEWEST_YEARS)


def nearest_station(
    latitude: float, longitude: float, within_km: float = FARTHEST_KM
) -> tuple[Station, float] | None:
    """Give the nearest station and its distance [km], or None when none is near enough."""
    here = (latitude, longitude)
    distance, station = min(
        ((distance_km(here, (s.latitude, s.longitude)), s) for s in stations()),
        key=lambda pair: (pair[0], pair[1].name),
    )
    return (station, distance) if distance <= within_km else None


def climate_near(latitude: float, longitude: float) -> Climate | None:
    """Give what is usual at the nearest station, at the station's height; None beyond 100 km."""
    found = nearest_station(latitude, longitude)
    return None if found is None else climate_at_station(*found)


def climates_within(latitude: float, longitude: float) -> tuple[Climate, ...]:
    """Give what is usual at every station within 100 km, nearest first, at each station's height."""
    here = (latitude, longitude)
    near = sorted(
        ((distance_km(here, (s.latitude, s.longitude)), s.name, s) for s in stations()),
        key=lambda one: one[:2],
    )
    return tuple(
        climate_at_station(s, distance) for distance, _name, s in near if distance <= FARTHEST_KM
    )


def climate_at_station(station: Station, distance_km: float = 0.0) -> Climate:
    """Give what is usual at a station, so far from the place [km]."""
    return Climate(
        name=station.name,
        minimum_c=station.minimum_c,
        maximum_c=station.maximum_c,
        spread_k=spreads(station.minimum_c, station.frost_days),
        base_period=BASE_PERIOD,
        any_frost=station.any_frost,
        frost_days=station.frost_days,
        years=station.years,
        height_m=station.height_m,
        distance_km=distance_km,
        attribution=station.attribution,
    )


def _station(name: str, rows: list[dict[str, str]], risks: dict[int, float]) -> Station:
    rows = sorted(rows, key=lambda row: int(row["month"]))
    first = rows[0]
    return Station(
        name=_OWN_NAMES.get(name, name.title()),
        latitude=float(first["lat"]),
        longitude=float(first["lon"]),
        height_m=float(first["elevation_m"]),
        minimum_c=tuple(float(row["tmin_mean_c"]) for row in rows),
        maximum_c=tuple(float(row["tmax_mean_c"]) for row in rows),
        frost_days=tuple(float(row["air_frost_days"]) for row in rows),
        any_frost=tuple(risks[month] for month in range(1, 13)),
        years=min(int(row["years"]) for row in rows),
        attribution=_attribution(name),
    )


def _attribution(name: str) -> str:
    if name.startswith("knmi_"):
        return "Usual nights: KNMI."
    if name == "dublin_airport":
        return "Usual nights: Met Éireann."
    return "Usual nights: Met Office, Open Government Licence v3.0."
