"""What is usual at a place: night minima and day highs by day of the year, and their spread."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from statistics import NormalDist
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

LAPSE_K_PER_M = 0.0065
"""Fall of temperature with height, 6.5 K per km (ICAO standard atmosphere)."""

DEFAULT_SPREAD_K = 3.5
"""Spread of night minima where frost days do not tell it (judgement)."""

CALENDAR = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of the months; a February is LEAP_SHARE longer on average [days]."""
LEAP_SHARE = 0.25
_HARMONICS = 4
_NEAR_THRESHOLD_K = 0.5
_SPREAD_RANGE_K = (2.0, 6.0)


@dataclass(frozen=True, slots=True)
class Climate:
    """What is usual, month by month, as one station or daily file tells it.

    Attributes
    ----------
    name : the station, or the circle's own file
    minimum_c, maximum_c : monthly means of night minima and day highs, shape (12,) [degrees C]
    spread_k : standard deviation of single night minima within each month, shape (12,) [K]
    base_period : the years behind it, for example "1991-2020"
    any_frost : chance of at least one air frost in each month, shape (12,), empty when unknown
    frost_days : monthly means of nights below 0, shape (12,), empty where the spread was measured [nights]
    years : fewest years behind any month, None where nobody counted them [years]
    height_m : height of the station, None for a file of the place itself [m]
    distance_km : from the place to the station [km]
    shift_k : added to every figure for the height of the place [K]
    night_shift_k : added to night minima for the lie of the place [K]
    """

    name: str
    minimum_c: tuple[float, ...]
    maximum_c: tuple[float, ...]
    spread_k: tuple[float, ...]
    base_period: str
    any_frost: tuple[float, ...] = ()
    frost_days: tuple[float, ...] = ()
    years: int | None = None
    height_m: float | None = None
    distance_km: float = 0.0
    shift_k: float = 0.0
    night_shift_k: float = 0.0
    attribution: str = ""

    @property
    def years_behind(self) -> int:
        """Fewest years behind any month, else all those of the base period [years]."""
        if self.years is not None:
            return self.years
        first, _dash, last = self.base_period.partition("-")
        return int(last or first) - int(first) + 1


@dataclass(frozen=True, slots=True)
class UsualNight:
    """The night that begins at noon of a day, as climate has it.

    Attributes
    ----------
    mean_c, sd_k : the night minimum as a normal distribution [degrees C, K]
    day_high_c : usual highest temperature of the day itself [degrees C]
    """

    mean_c: float
    sd_k: float
    day_high_c: float


def spread_of_nights(mean_c: float, frost_days: float, days: float) -> float:
    """Give the spread of night minima that a month's mean and number of air frosts imply.

    With night minima normal, frost days / days = Phi(-mean / s), so s = -mean / Phi^-1(share).
    Where the share is below 0.02 or above 0.98, or the mean so near to 0 that the quotient says
    nothing, the default of 3.5 K stands. The result is kept between 2 and 6 K (judgement).

    Parameters
    ----------
    mean_c : monthly mean of the night minima [degrees C]
    frost_days : mean number of nights below 0 [nights]
    days : length of the month [days]

    Returns
    -------
    spread : [K]
    """
    share = frost_days / days
    if not 0.02 <= share <= 0.98 or abs(mean_c) < _NEAR_THRESHOLD_K:
        return DEFAULT_SPREAD_K
    z = NormalDist().inv_cdf(share)
    if z == 0.0 or -mean_c / z <= 0.0:
        return DEFAULT_SPREAD_K
    low, high = _SPREAD_RANGE_K
    return min(high, max(low, -mean_c / z))


def spreads(minimum_c: Sequence[float], frost_days: Sequence[float]) -> tuple[float, ...]:
    """Give the spread of night minima for each month, shape (12,) [K]."""
    lengths = [days + LEAP_SHARE * (days == 28) for days in CALENDAR]
    return tuple(
        spread_of_nights(mean, frosts, days)
        for mean, frosts, days in zip(minimum_c, frost_days, lengths, strict=True)
    )


def at_height(climate: Climate, height_m: float | None) -> Climate:
    """Move the climate to another height by 6.5 K per km; unknown heights leave it as it is."""
    if height_m is None or climate.height_m is None:
        return climate
    return replace(
        climate,
        height_m=height_m,
        shift_k=climate.shift_k - LAPSE_K_PER_M * (height_m - climate.height_m),
    )


def with_nights_shifted(climate: Climate, shift_k: float) -> Climate:
    """Give the climate with night minima warmer (or, below zero, colder) by so much [K]."""
    return replace(climate, night_shift_k=climate.night_shift_k + shift_k)


def usual_night(climate: Climate, day: date) -> UsualNight:
    """Give the usual night that begins at noon of the day.

    The minimum comes towards the morning, so it is read at the following day's date.
    """
    morning = _index(day + timedelta(days=1))
    return UsualNight(
        mean_c=by_day_of_year(climate.minimum_c)[morning] + climate.shift_k + climate.night_shift_k,
        sd_k=max(_SPREAD_RANGE_K[0], by_day_of_year(climate.spread_k)[morning]),
        day_high_c=by_day_of_year(climate.maximum_c)[_index(day)] + climate.shift_k,
    )


@cache
def by_day_of_year(monthly: tuple[float, ...]) -> tuple[float, ...]:
    """Give a smooth daily course whose monthly means are close to those given.

    A mean and four waves a year, fitted so that their averages over the months of the calendar come
    as near as they can to the twelve values.

    Parameters
    ----------
    monthly : shape (12,)

    Returns
    -------
    daily : shape (366,), index 0 is 1 January

    Raises
    ------
    ValueError
        when there are not twelve values
    """
    if len(monthly) != 12:
        raise ValueError("A year has twelve monthly values.")
    waves = _waves()
    months = np.repeat(np.arange(12), CALENDAR)
    averages = np.array([waves[:365][months == month].mean(axis=0) for month in range(12)])
    weights, *_rest = np.linalg.lstsq(averages, np.asarray(monthly, dtype=float), rcond=None)
    return tuple((waves @ weights).tolist())


def _waves() -> NDArray[np.float64]:
    """Give the mean and the waves at the middle of each day, shape (366, 9)."""
    turn = 2.0 * math.pi * (np.arange(366) + 0.5) / 365.25
    columns = [np.ones(366)]
    for order in range(1, _HARMONICS + 1):
        columns += [np.cos(order * turn), np.sin(order * turn)]
    return np.column_stack(columns)


def _index(day: date) -> int:
    return day.timetuple().tm_yday - 1


LIE_SHIFT_K = {"open": 0.0, "hollow": -1.5, "town": 1.0, "coast": 1.0}
"""How much warmer the night minimum is than on open, level ground (judgement) [K]."""


class Spot(Protocol):
    """A place as the weather sees it."""

    @property
    def id(self) -> int:
        """Its number."""

    @property
    def zone(self) -> str:
        """IANA name of its time zone."""

    @property
    def height_m(self) -> float | None:
        """Height above the sea, None when nobody has said [m]."""

    @property
    def lie(self) -> str:
        """How it lies: open, hollow, town or coast."""


def climate_at(spot: Spot, climate: Climate, height_m: float | None = None) -> Climate:
    """Give the climate at the spot: corrected for its height and for how it lies.

    A file of the place itself (without a height of its own) has both in it already.

    Parameters
    ----------
    spot : the place
    climate : as its station has it
    height_m : height to take where the place itself states none [m]
    """
    if climate.height_m is None:
        return climate
    height = spot.height_m if spot.height_m is not None else height_m
    return with_nights_shifted(at_height(climate, height), LIE_SHIFT_K[spot.lie])
