"""What a forecast tells of a place: minima and highs, corrected, and what speaks against them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from statistics import fmean

from exchange.domain.weather.climate import LAPSE_K_PER_M, LIE_SHIFT_K, Spot
from exchange.domain.weather.forecast import Forecast
from exchange.domain.weather.nights import (
    day_highs,
    minima_by_member,
    night_bounds,
    night_minima,
)
from exchange.domain.weather.note import Note

RAW_COLD_CORRECTION_K = 0.5
"""Taken from raw model minima, which are mostly too warm (Lopes et al. 2024; size: judgement)."""

OLDEST_FORECAST = timedelta(days=5)
"""An older forecast is not used (judgement)."""

MOST_WARMED_K = 1.0
"""A place below the forecast's height is taken to be no more than this warmer: on clear nights cold air gathers in
valleys (judgement) [K]."""

NEAR_GRID_KM = 10.0
"""A forecast for a point within this knows whether it is town or coast (judgement) [km]."""

FEWEST_MEMBERS = 5
"""A smaller ensemble says too little of the spread (judgement)."""

_MINIMUM_BEFORE_NOON = timedelta(hours=6)
_CLOCKS_DIFFER_BY = timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class ToldNight:
    """What a forecast tells of one night.

    Attributes
    ----------
    minimum_c : lowest reading, of an ensemble the mean of its members' [degrees C]
    whole : whether no hour and no member is missing; otherwise the night is at least so cold
    members : minima by the member's number; empty for a plain forecast and an incomplete night [degrees C]
    """

    minimum_c: float
    whole: bool
    members: Mapping[int, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CorrectedForecast:
    """What a forecast tells of one place, corrected for its height and lie.

    Attributes
    ----------
    minima : of the nights of which every hour is there [degrees C]
    at_most : lowest reading of every night, whole or not [degrees C]
    highs : of days [degrees C]
    members, members_at_most : the same of the ensemble, by night, then by the member's number [degrees C]
    ensemble : how many members there should be; 0 for a plain forecast
    """

    forecast: Forecast
    zone: str
    minima: Mapping[date, float]
    at_most: Mapping[date, float]
    highs: Mapping[date, float]
    members: Mapping[date, Mapping[int, float]]
    members_at_most: Mapping[date, Mapping[int, float]]
    ensemble: int

    def lead_days(self, day: date) -> float:
        """Give the time from the issue to the minimum, taken at six in the morning [days]."""
        minimum_at = night_bounds(day, self.zone)[1] - _MINIMUM_BEFORE_NOON
        return (minimum_at - self.forecast.issued_at) / timedelta(days=1)

    def night(self, day: date) -> ToldNight | None:
        """Give what is told of a night; None where the forecast does not reach it.

        An ensemble of which any member lacks the night is incomplete: the missing one may be the coldest.
        """
        if self.ensemble:
            members = self.members.get(day, {})
            if len(members) == self.ensemble:
                return ToldNight(fmean(members.values()), whole=True, members=members)
            known = self.members_at_most.get(day, {})
            if known:
                means = (fmean(lows.values()) for lows in (members, known) if lows)
                return ToldNight(min(means), whole=False)
        elif day in self.minima:
            return ToldNight(self.minima[day], whole=True)
        if day in self.at_most:
            return ToldNight(self.at_most[day], whole=False)
        return None

    def ends_in(self, day: date) -> bool:
        """Say whether the forecast merely ends in this night, as each does in one; not the coming night yet."""
        return day == max(self.at_most, default=None) and self.lead_days(day) > 1.0

    def reaches(self, day: date) -> bool:
        """Say whether the forecast speaks of nights before and after this one."""
        return bool(self.at_most) and min(self.at_most) <= day <= max(self.at_most)


def corrected_for(
    forecast: Forecast | None, place: Spot, now: datetime
) -> tuple[CorrectedForecast | None, tuple[str, ...]]:
    """Give what a forecast tells of the place, or None where it is not to be used, and the notes.

    Parameters
    ----------
    forecast : for the place, or None
    place : where
    now : instant
    """
    if forecast is None:
        return None, (Note.NO_FORECAST,)
    if forecast.issued_at > now + _CLOCKS_DIFFER_BY:
        return None, (Note.FROM_THE_FUTURE, Note.NO_FORECAST)
    if now - forecast.issued_at > OLDEST_FORECAST:
        return None, (Note.TOO_OLD, Note.NO_FORECAST)
    notes = (Note.OLD,) if forecast.is_old(now) else ()
    return _corrected(forecast, place), notes


def _corrected(forecast: Forecast, place: Spot) -> CorrectedForecast:
    lift = min(MOST_WARMED_K, _height_correction(place, forecast))
    cold = 0.0 if forecast.regressed else RAW_COLD_CORRECTION_K
    shift = lift + _lie_correction(place, forecast) - cold
    readings, zone, fetched = forecast.readings, place.zone, forecast.fetched_at
    known = minima_by_member(readings, zone, whole=False)
    seen = {number for lows in known.values() for number in lows}
    ensemble = max(forecast.members, len(seen))
    return CorrectedForecast(
        forecast=forecast,
        zone=zone,
        minima=_shifted(night_minima(readings, zone, fetched_at=fetched), shift),
        at_most=_shifted(night_minima(readings, zone, whole=False), shift),
        highs=_shifted(day_highs(readings, zone), lift),
        members=_each_shifted(minima_by_member(readings, zone, fetched_at=fetched), shift),
        members_at_most=_each_shifted(known, shift),
        ensemble=ensemble if ensemble >= FEWEST_MEMBERS else 0,
    )


def _each_shifted(
    nights: Mapping[date, Mapping[int, float]], shift: float
) -> dict[date, dict[int, float]]:
    return {
        day: {number: value + shift for number, value in values.items()}
        for day, values in nights.items()
    }


def _shifted(values: Mapping[date, float], shift: float) -> dict[date, float]:
    return {day: value + shift for day, value in values.items()}


def _lie_correction(place: Spot, forecast: Forecast) -> float:
    """Give what the lie does to night minima; a near forecast knows of town and sea already [K]."""
    shift = LIE_SHIFT_K[place.lie]
    far = forecast.grid_km is not None and forecast.grid_km > NEAR_GRID_KM
    return shift if far else min(0.0, shift)


def _height_correction(place: Spot, forecast: Forecast) -> float:
    if place.height_m is None or forecast.grid_height_m is None:
        return 0.0
    return -LAPSE_K_PER_M * (place.height_m - forecast.grid_height_m)
