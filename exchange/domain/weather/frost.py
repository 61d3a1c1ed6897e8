"""Frost dates and frost chances, always with the thermometer, the inequality and the base period.

A safe date here is the date after which frost still comes in 1 spring of 10: the 10 % exceedance,
which is the 90th percentile of last-frost dates.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import cache

import numpy as np

from exchange.domain.weather.climate import Climate, by_day_of_year, usual_night
from exchange.domain.weather.normal import chance_any_below, chance_below

NIGHT_CORRELATION = 0.65
"""Between the minima of neighbouring nights (measured: .60 .70 .68 .67, March to May
1991-2020, Dublin Airport, Hoogeveen, Hupsel, Herwijnen)."""

SAFE_EXCEEDANCE = 0.1
_SURE = 0.98
_NEVER_SEEN = 0.016


class Thermometer(StrEnum):
    """Where the thermometer is: in the screen at 1.25 to 2 m, or over short grass."""

    SCREEN = "screen"
    GRASS = "grass"


@dataclass(frozen=True, slots=True)
class Frost:
    """What counts as frost.

    Attributes
    ----------
    threshold_c : [degrees C]
    at_threshold : whether the threshold itself counts (<=, as in the United States) or not (<)
    """

    thermometer: Thermometer = Thermometer.SCREEN
    threshold_c: float = 0.0
    at_threshold: bool = False


AIR_FROST = Frost()
"""British air frost: screen minimum below 0.0 degrees C."""


@dataclass(frozen=True, slots=True)
class SafeDate:
    """The day from which frost comes in no more than this share of springs.

    Attributes
    ----------
    day : the first such day
    exceedance : share of springs in which frost still comes on or after it
    frost_share : share of years with any frost in the season
    base_period : the years behind it
    """

    day: date
    exceedance: float
    frost_share: float
    frost: Frost
    base_period: str


def safe_date(climate: Climate, year: int, exceedance: float = SAFE_EXCEEDANCE) -> SafeDate | None:
    """Give the first day from which air frost comes in no more than this share of springs.

    The season runs from the coldest to the warmest day of the year. Where the station's share of
    months with an air frost is known, a month's hazard -ln(1 - share) is laid over its nights,
    falling smoothly from month to month, and each night is scaled by how much more often the place
    freezes than its station under the normal nightly minimum; the chance of no frost from a day on
    is exp(-hazards left). Elsewhere the nights form a correlated normal chain, solved by quadrature;
    that errs on the late side by one to four weeks, the first way by four to ten days (four
    stations, 1991-2020).

    Parameters
    ----------
    climate : at the place
    year : in which the spring falls
    exceedance : share of springs

    Returns
    -------
    safe : or None where frost comes more often than that up to the warmest day
    """
    nights = _spring(climate, year)
    chances = _chances_from(climate, nights)
    for day, chance in zip(nights, chances, strict=True):
        if chance <= exceedance:
            return SafeDate(day, exceedance, chances[0], AIR_FROST, climate.base_period)
    return None


def _spring(climate: Climate, year: int) -> list[date]:
    course = by_day_of_year(climate.minimum_c)[:365]
    coldest = course.index(min(course))
    length = (course.index(max(course)) - coldest) % 365
    first = date(year, 1, 1) + timedelta(days=coldest)
    return [first + timedelta(days=offset) for offset in range(length)]


def _chances_from(climate: Climate, nights: Sequence[date]) -> list[float]:
    usual = [usual_night(climate, day) for day in nights]
    if not climate.any_frost:
        means, sds = [u.mean_c for u in usual], [u.sd_k for u in usual]
        return [
            chance_any_below(0.0, means[i:], sds[i:], NIGHT_CORRELATION) for i in range(len(nights))
        ]
    left, chances = 0.0, []
    for hazard in reversed(_hazards(climate, nights)):
        left += hazard
        chances.append(1.0 - math.exp(-left))
    return chances[::-1]


def _hazards(climate: Climate, nights: Sequence[date]) -> list[float]:
    """Give each night's hazard at the place, in the order of the nights."""
    shift = climate.shift_k + climate.night_shift_k
    course = _station_hazards(climate.any_frost)
    hazards = []
    for day in nights:
        usual = usual_night(climate, day)
        here = chance_below(0.0, usual.mean_c, usual.sd_k)
        there = chance_below(0.0, usual.mean_c - shift, usual.sd_k)
        hazards.append(course[_plain_day(day + timedelta(days=1)) - 1] * here / there)
    return hazards


@cache
def _station_hazards(any_frost: tuple[float, ...]) -> tuple[float, ...]:
    """Give the station's hazard of each night of a year of 365 days.

    Between the middles of months the logarithm runs straight; each month then keeps its own sum.
    """
    days = [date(2001, 1, 1) + timedelta(days=offset) for offset in range(365)]
    monthly = [_month_hazard(share) for share in any_frost]
    middles = [_plain_day(date(2001, month, 15)) for month in range(1, 13)]
    logs = [math.log(hazard) for hazard in monthly]
    positions = np.array([middles[-1] - 365, *middles, middles[0] + 365])
    course = np.exp(np.interp(np.arange(1, 366), positions, [logs[-1], *logs, logs[0]]))
    months = np.array([day.month - 1 for day in days])
    sums = np.bincount(months, weights=course, minlength=12)
    return tuple((course * (np.array(monthly) / sums)[months]).tolist())


def _month_hazard(share: float) -> float:
    """Give -ln(1 - share); a share of 0 or 1 among some thirty years is not taken at its word."""
    return -math.log(1.0 - min(max(share, _NEVER_SEEN), _SURE))


def _plain_day(day: date) -> int:
    return (
        (day.replace(year=2001, day=min(day.day, 28 if day.month == 2 else 31))).timetuple().tm_yday
    )
