"""How likely each night of the year is to freeze at a place, out of the months of its station.

Height and lie shift temperatures, never chances: a hollow is so much colder each night, and how much more
often it then freezes depends on how near to frost the night was. All arrays have one entry a night, by the
day of a 365-day year on whose morning the night ends; index 0 is 1 January.
"""

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from exchange.domain.weather.climate import CALENDAR, LEAP_SHARE, Climate, by_day_of_year

Nights = NDArray[np.float64]

SPREAD_SHAPE_K = (4.2, 4.1, 3.6, 3.4, 3.3, 2.9, 2.65, 2.7, 3.0, 3.75, 3.65, 4.2)
"""Spread of single night minima about their month's course, January to December (measured: the middle of
Dublin Airport, Hoogeveen, Hupsel and Herwijnen, 1991-2020) [K]."""

RUN_OF_FROSTS = 0.75
"""Frosts come in runs: a night's hazard is so much less than its chance (measured at some 38 stations: .84
where frosts are rare in spring, .6 in autumn, .45 in winter; from .6 to .9 dates move by 0 to 2 days)."""

SPREAD_RATIO_RANGE = (0.7, 1.25)
USUAL_SPREAD_RATIO = 0.9
"""A station's own spread over the shape: what is believed, and what is taken where no month tells it."""

TELLING_SHARE = (0.01, 0.45)
TELLING_MINIMUM_C = 0.7
"""Months that tell a station's spread: by their share of frost days and their mean minimum [degrees C]."""

UNSURE_SHARE = (0.1, 0.9)
MOST_OFFSET_K = 1.5
"""Months that tell an offset, by their share of years with a frost; and its largest size [K]."""

GRASS_EVEN_C = 1.67
GRASS_WIDTH_K = 0.84
"""Ground frost against the air minimum: even at the first, a logistic curve of the second's width (measured
against the grass minima of Dublin Airport and the 10 cm minima of the Dutch stations)."""

FIRST_MIDDLE, MIDDLES_APART = 15.5, 30.4
"""Middles of the months, as day numbers: the first, and from one to the next [days]."""

_SPRING, _AUTUMN = range(2, 6), range(8, 11)
_AUGUST = 7
_HALVINGS = 50
_MONTH = np.repeat(range(len(CALENDAR)), CALENDAR)
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(40)
_SHARES = _WEIGHTS / _WEIGHTS.sum()
_phi: Callable[[Nights], Nights] = np.vectorize(
    lambda z: 0.5 * math.erfc(-z / math.sqrt(2.0)), otypes=[float]
)


def air_frost(climate: Climate, threshold_c: float = 0.0) -> Nights:
    """Give the hazard of each night that the screen minimum at the place falls below the threshold.

    Parameters
    ----------
    climate : at the place
    threshold_c : [degrees C]

    Returns
    -------
    hazards : shape (365,); no frost comes in some nights with the chance exp(-their sum)
    """
    mean, spread = at_place(climate)
    hazards: Nights = RUN_OF_FROSTS * _phi((threshold_c - mean) / spread)
    return hazards


def ground_frost(climate: Climate) -> Nights:
    """Give the hazard of each night that short grass freezes at the place, shape (365,)."""
    mean, spread = at_place(climate)
    minima = mean[:, None] + spread[:, None] * _NODES
    freezes = 1.0 / (1.0 + np.exp((minima - GRASS_EVEN_C) / GRASS_WIDTH_K))
    hazards: Nights = RUN_OF_FROSTS * freezes @ _SHARES
    return hazards


def at_place(climate: Climate) -> tuple[Nights, Nights]:
    """Give the mean and the spread of each night's minimum at the place, as its frosts imply [degrees C, K]."""
    mean, spread = _station(climate)
    return mean + climate.shift_k + climate.night_shift_k, spread


def spread_ratios(climate: Climate) -> tuple[float, float]:
    """Give how wide the station's nights spread against the usual shape, in spring and in autumn."""
    spring, autumn = _ratio(climate, _SPRING), _ratio(climate, _AUTUMN)
    return (
        spring or autumn or USUAL_SPREAD_RATIO,
        autumn or spring or USUAL_SPREAD_RATIO,
    )


@lru_cache(maxsize=256)
def _station(climate: Climate) -> tuple[Nights, Nights]:
    """Give mean, with the offset its counted frosts ask for, and spread at the station itself."""
    course = np.array(by_day_of_year(climate.minimum_c)[:365])
    spring, autumn = spread_ratios(climate)
    spread = np.where(_MONTH < _AUGUST, spring, autumn) * _between(SPREAD_SHAPE_K)
    return course + _between(_offsets(climate, course, spread)), spread


def _ratio(climate: Climate, months: range) -> float | None:
    """Give the mean ratio over the months that tell it, kept in its range; None where none does."""
    if climate.frost_days:
        told = [_implied(climate, month) for month in months]
    else:
        told = [climate.spread_k[month] for month in months]
    ratios = [
        spread / SPREAD_SHAPE_K[month]
        for month, spread in zip(months, told, strict=True)
        if spread is not None
    ]
    if not ratios:
        return None
    low, high = SPREAD_RATIO_RANGE
    return min(high, max(low, sum(ratios) / len(ratios)))


def _implied(climate: Climate, month: int) -> float | None:
    """Give the spread that a month's mean and number of frosts imply; None where they tell little [K]."""
    share = climate.frost_days[month] / (CALENDAR[month] + LEAP_SHARE * (month == 1))
    low, high = TELLING_SHARE
    if not low <= share <= high or climate.minimum_c[month] < TELLING_MINIMUM_C:
        return None
    return -climate.minimum_c[month] / NormalDist().inv_cdf(share)


def _offsets(climate: Climate, course: Nights, spread: Nights) -> list[float]:
    """Give, month by month, by how much the counted frosts shift the nights [K]."""
    told = []
    for month in range(12):
        nights = np.equal(_MONTH, month)
        told.append(_offset(climate, month, course[nights], spread[nights]))
    found = []
    for month in range(12):
        half = range(_AUGUST) if month < _AUGUST else range(_AUGUST, 12)
        known = {other: offset for other in half if (offset := told[other]) is not None}
        nearest = min(known, key=lambda other: (abs(other - month), other), default=None)
        found.append(0.0 if nearest is None else known[nearest])
    return found


def _offset(climate: Climate, month: int, course: Nights, spread: Nights) -> float | None:
    """Find the offset at which the month's hazards agree with the share of its years that had a frost."""
    if not climate.any_frost:
        return None

    def hazard(offset: float) -> float:
        return float(RUN_OF_FROSTS * _phi((-course - offset) / spread).sum())

    share, (low, high) = climate.any_frost[month], UNSURE_SHARE
    expected = 1.0 - math.exp(-hazard(0.0))
    if not low <= share <= high and not (low <= expected <= high and share < 0.5):
        return None
    years = climate.years_behind
    wanted = -math.log(1.0 - (years * share + 0.5) / (years + 1.0))
    colder, warmer = -MOST_OFFSET_K, MOST_OFFSET_K
    for _halving in range(_HALVINGS):
        middle = (colder + warmer) / 2.0
        colder, warmer = (middle, warmer) if hazard(middle) > wanted else (colder, middle)
    return (colder + warmer) / 2.0


def _between(monthly: Sequence[float]) -> Nights:
    """Give each day's value, straight between the middles of the months."""
    middles = FIRST_MIDDLE + MIDDLES_APART * np.arange(12)
    positions = [middles[-1] - 365, *middles, middles[0] + 365]
    return np.interp(np.arange(1, 366), positions, [monthly[-1], *monthly, monthly[0]])
