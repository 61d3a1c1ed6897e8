"""Frost dates and frost chances, always with the thermometer, the inequality and the base period.

A safe date here is the date after which frost still comes in 1 spring of 10: the 10 % exceedance,
which is the 90th percentile of last-frost dates.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

import numpy as np

from exchange.domain.weather.climate import Climate
from exchange.domain.weather.hazard import Nights, air_frost, ground_frost

SAFE_EXCEEDANCE = 0.1

SPRING_ENDS = 205
"""24 July, as the day of a 365-day year: frosts up to it are the spring's, later ones the autumn's."""


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

GROUND_FROST = Frost(Thermometer.GRASS)
"""British ground frost: minimum over short grass below 0.0 degrees C."""

HARD_FROST = Frost(threshold_c=-2.2)
"""A freeze hard enough to reach what stands in the ground: 28 degrees F, as NOAA counts it."""


@dataclass(frozen=True, slots=True)
class SafeDate:
    """The day from which frost comes in no more than this share of springs.

    Attributes
    ----------
    day : the first such day
    exceedance : share of springs in which frost still comes on or after it
    frost_share : share of springs with any frost, from New Year on
    base_period : the years behind it
    """

    day: date
    exceedance: float
    frost_share: float
    frost: Frost
    base_period: str


def safe_date(
    climate: Climate, year: int, exceedance: float = SAFE_EXCEEDANCE, frost: Frost = AIR_FROST
) -> SafeDate | None:
    """Give the first day from which frost comes in no more than this share of springs.

    Of an air frost this is 4 days early to 7 days late against counting thirty years of daily minima at
    four stations, in the open and in hollows as much as 3 K colder; of a ground frost up to a fortnight late.

    Parameters
    ----------
    climate : at the place
    year : in which the spring falls
    exceedance : share of springs

    Returns
    -------
    safe : or None where frost comes more often than that up to 24 July
    """
    chances = chances_from(climate, frost)
    often = np.flatnonzero(chances > exceedance)
    day = 1 if not len(often) else int(often[-1]) + 2
    if day > SPRING_ENDS:
        return None
    return SafeDate(day_of(year, day), exceedance, float(chances[0]), frost, climate.base_period)


def frost_by(climate: Climate, year: int, share: float, frost: Frost = AIR_FROST) -> date | None:
    """Give the first day by which a frost has come in this share of autumns; None where not by New Year."""
    come = 1.0 - np.exp(-np.cumsum(_hazards(climate, frost)[SPRING_ENDS:]))
    reached = np.flatnonzero(come >= share)
    return day_of(year, SPRING_ENDS + 1 + int(reached[0])) if len(reached) else None


def chances_from(climate: Climate, frost: Frost = AIR_FROST) -> Nights:
    """Give the chance that frost comes on or after each day up to 24 July, shape (205,)."""
    left = np.cumsum(_hazards(climate, frost)[:SPRING_ENDS][::-1])[::-1]
    chances: Nights = 1.0 - np.exp(-left)
    return chances


def day_of(year: int, number: int) -> date:
    """Give the day of a year by its number in a year of 365 days, from 1 on."""
    return (date(2001, 1, 1) + timedelta(days=number - 1)).replace(year=year)


def _hazards(climate: Climate, frost: Frost) -> Nights:
    if frost.thermometer is Thermometer.GRASS:
        return ground_frost(climate)
    return air_frost(climate, frost.threshold_c)
