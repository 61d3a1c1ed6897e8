"""What is expected at one place, night by night, and how much of some nights the forecasts tell."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from exchange.domain.weather.note import Doubt

MET_NORWAY = "MET Norway"
US_NWS = "US National Weather Service"
FROST_NOTE = "frost note"

OLD_AFTER = timedelta(hours=6)
"""So long after it expired a forecast is older than it should be: they are fetched every six hours [h]."""

_REGRESSED = frozenset({MET_NORWAY, US_NWS, FROST_NOTE})


class WeatherSource(StrEnum):
    """Where a night's figures come from."""

    FORECAST = "forecast"
    CLIMATE = "climate"
    BOTH = "both"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Reading:
    """One instant of a forecast.

    Attributes
    ----------
    at : instant, UTC
    temperature_c, dew_point_c : at screen height [degrees C]
    wind_ms : at 10 m [m/s]
    cloud_pct : cover [%]
    member : number of the ensemble member, None for the plain forecast
    """

    at: datetime
    temperature_c: float
    dew_point_c: float | None = None
    wind_ms: float | None = None
    cloud_pct: float | None = None
    member: int | None = None


@dataclass(frozen=True, slots=True)
class Forecast:
    """One forecast for one place, as it was fetched.

    Attributes
    ----------
    source : the service or "saved file"
    issued_at, fetched_at, expires_at : instants, UTC
    grid_height_m : height the service assumes, or None [m]
    grid_km : from the place to the point the service answers for, None where that is the place itself or unknown
        [km]
    readings : in order of time
    lacks : what the answer lacked, in the user's words
    members : how many members the service speaks of, with or without figures; 0 for a plain forecast
    """

    place_id: int
    source: str
    issued_at: datetime
    fetched_at: datetime
    expires_at: datetime
    attribution: str
    readings: tuple[Reading, ...]
    grid_height_m: float | None = None
    grid_km: float | None = None
    lacks: tuple[str, ...] = ()
    members: int = 0

    @property
    def regressed(self) -> bool:
        """Whether the source has drawn its figures toward what is usual itself."""
        return self.source in _REGRESSED

    def is_old(self, now: datetime) -> bool:
        """Say whether it is older than it should be."""
        return now > self.expires_at + OLD_AFTER


@dataclass(frozen=True, slots=True)
class Night:
    """The night that begins at noon of `day` and ends at noon of the next, in the place's zone.

    Attributes
    ----------
    mean_c, sd_c : the night minimum as a predictive normal at screen height [degrees C, K]
    day_high_c : expected highest temperature of `day` itself [degrees C]
    source : FORECAST (blended with climate) or CLIMATE
    members : minima of the ensemble members behind it, empty for a plain forecast [degrees C]
    numbers : the numbers of those members, which stay the same from night to night and from place to
        place; empty where they are simply counted from 0
    doubt : what is doubtful in its forecast, None where nothing is
    """

    day: date
    mean_c: float
    sd_c: float
    day_high_c: float
    source: WeatherSource
    members: tuple[float, ...] = ()
    numbers: tuple[int, ...] = ()
    doubt: Doubt | None = None

    def by_number(self) -> dict[int, float]:
        """Give the minima of the members by their numbers [degrees C]."""
        return dict(zip(self.numbers or range(len(self.members)), self.members, strict=False))


@dataclass(frozen=True, slots=True)
class Outlook:
    """The coming nights of one place; no gaps between the first and the last.

    Attributes
    ----------
    nights : consecutive nights, empty when neither forecast nor climate is known
    issued_at : when the forecast behind it was issued, None for climate alone
    notes : what a reader must know of all of it ("no height was given, so the cold is not corrected for it")
    """

    place_id: int
    nights: tuple[Night, ...]
    source: WeatherSource
    issued_at: datetime | None = None
    attribution: str = ""
    notes: tuple[str, ...] = ()

    def night(self, day: date) -> Night | None:
        """Give the night that begins on the day, or None outside the outlook."""
        if not self.nights:
            return None
        index = (day - self.nights[0].day).days
        return self.nights[index] if 0 <= index < len(self.nights) else None

    def doubts(self, days: Collection[date]) -> Mapping[Doubt, tuple[date, ...]]:
        """Give which of the nights that begin on the days are doubtful, by what is doubtful in them."""
        found: dict[Doubt, tuple[date, ...]] = {}
        for night in self.nights:
            if night.doubt is not None and night.day in days:
                found[night.doubt] = (*found.get(night.doubt, ()), night.day)
        return found


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What the forecasts tell of the nights that matter for one day of posting.

    Attributes
    ----------
    missing : nights at either end that no forecast tells [nights]
    issued_at : when the older of the forecasts behind them was issued, None without any
    """

    missing: int
    issued_at: datetime | None = None

    def is_less_than(self, before: "Knowledge | None") -> bool:
        """Say whether it is less than before: more nights are missing, or a forecast is older."""
        if before is None:
            return False
        if before.issued_at is None:
            return self.missing > before.missing
        older = self.issued_at is None or self.issued_at < before.issued_at
        return older or self.missing > before.missing


def knowledge(ends: Iterable[Outlook | None], first: date, last: date) -> Knowledge:
    """Count what the forecasts of some places tell of the nights from the first to the last, both counted."""
    span = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    missing, issued = 0, []
    for outlook in ends:
        nights = [outlook.night(day) for day in span] if outlook else [None] * len(span)
        told = [night for night in nights if night and night.source is WeatherSource.FORECAST]
        missing += len(span) - len(told)
        if told and outlook and outlook.issued_at:
            issued.append(outlook.issued_at)
    return Knowledge(missing, min(issued, default=None))
