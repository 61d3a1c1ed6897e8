"""Frost tonight? The FAO regression from an evening reading.

References
----------
[1] Snyder and de Melo-Abreu 2005, Frost protection, FAO, volume 1 chapter 5 (two least-squares fits
    in sequence: the minimum on the temperature two hours after sunset, then what is left on the dew
    point).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from statistics import NormalDist

from exchange.domain.weather.forecast import Night, WeatherSource

CALMEST_WIND_MS = 2.0
"""The regression holds for radiation nights only: wind below 2 m/s and no cloud [1] [m/s]."""

ELSEWHERE_K = 2.0
"""Error of a rule fitted at another place than the one it is used at (judgement) [K]."""

DISAGREE_FROM = 0.2
"""Two chances of frost this far apart are said to disagree (judgement)."""

_FEWEST_EVENINGS = 5


@dataclass(frozen=True, slots=True)
class SunsetRule:
    """A fitted regression.

    Attributes
    ----------
    slope, intercept : on the temperature two hours after sunset [K/K, degrees C]
    dew_slope, dew_intercept : of what is left, on the dew point then [K/K, K]
    error_k, dew_error_k : standard error of each form [K]
    """

    slope: float
    intercept: float
    dew_slope: float
    dew_intercept: float
    error_k: float
    dew_error_k: float

    def minimum(self, evening_c: float, dew_point_c: float | None = None) -> float:
        """Give the coming minimum; without a dew point the first fit alone [degrees C]."""
        first = self.slope * evening_c + self.intercept
        if dew_point_c is None:
            return first
        return first + self.dew_slope * dew_point_c + self.dew_intercept


@dataclass(frozen=True, slots=True)
class Tonight:
    """What an evening reading says of the night.

    Attributes
    ----------
    minimum_c, sd_k : the minimum as a predictive normal [degrees C, K]
    frost_chance : of a minimum below 0
    holds : False when wind or cloud make it no radiation night, so that the rule says little
    """

    minimum_c: float
    sd_k: float
    frost_chance: float
    holds: bool


FAO_NIGHTS = (
    (3.2, -4.2, -3.1),
    (0.8, -8.8, -5.0),
    (0.2, -6.5, -6.3),
    (2.6, -6.2, -5.4),
    (4.4, -6.1, -4.0),
    (5.2, 2.6, -2.5),
    (2.7, -0.7, -4.8),
    (1.2, -1.7, -5.0),
    (4.5, -1.2, -4.4),
    (5.6, 0.1, -3.3),
)
"""Ten nights printed in [1]: temperature and dew point two hours after sunset, minimum."""


def fit_sunset(nights: Sequence[tuple[float, float, float]]) -> SunsetRule:
    """Fit the rule to nights of evening temperature, dew point and minimum [degrees C].

    Raises
    ------
    ValueError
        with fewer than five nights, or all alike
    """
    if len(nights) < _FEWEST_EVENINGS:
        raise ValueError("The rule for frost tonight needs at least five nights.")
    evenings, dews, minima = zip(*nights, strict=True)
    slope, intercept = _line(evenings, minima)
    left = [low - (slope * t + intercept) for t, low in zip(evenings, minima, strict=True)]
    dew_slope, dew_intercept = _line(dews, left)
    rest = [r - (dew_slope * d + dew_intercept) for d, r in zip(dews, left, strict=True)]
    count = len(nights)
    return SunsetRule(
        slope=slope,
        intercept=intercept,
        dew_slope=dew_slope,
        dew_intercept=dew_intercept,
        # Degrees of freedom: two coefficients are fitted, and a third for the dew point.
        error_k=math.sqrt(math.fsum(r * r for r in left) / (count - 2)),
        dew_error_k=math.sqrt(math.fsum(r * r for r in rest) / (count - 3)),
    )


def tonight(
    evening_c: float,
    dew_point_c: float | None = None,
    *,
    wind_ms: float | None = None,
    clear: bool = True,
    rule: SunsetRule | None = None,
) -> Tonight:
    """Say what a reading two hours after sunset means for the night.

    Parameters
    ----------
    evening_c, dew_point_c : [degrees C]
    wind_ms : [m/s], None when not known
    clear : whether the sky is clear, without fog or rain
    rule : fitted on the place's own nights; the ten nights of FAO by default
    """
    used = rule or fit_sunset(FAO_NIGHTS)
    minimum = used.minimum(evening_c, dew_point_c)
    error = used.error_k if dew_point_c is None else used.dew_error_k
    calm = wind_ms is None or wind_ms < CALMEST_WIND_MS
    return Tonight(minimum, error, NormalDist(minimum, error).cdf(0.0), holds=calm and clear)


def tonight_elsewhere(
    evening_c: float, dew_point_c: float | None = None, *, clear: bool, still: bool
) -> Tonight:
    """Say the same of a place where the ten nights of FAO were not read, with the added uncertainty.

    Variance = s^2 (1 + 1/n + (x - mean)^2 / Sxx) + 2^2: the prediction error of a line fitted to
    few evenings, growing away from them, and that of another place.

    Parameters
    ----------
    evening_c, dew_point_c : two hours after sunset [degrees C]
    clear, still : whether the sky is clear and the air at rest; otherwise it does not hold
    """
    said = tonight(evening_c, dew_point_c, clear=clear and still)
    evenings = [evening for evening, _dew, _low in FAO_NIGHTS]
    count, mean = len(evenings), math.fsum(evenings) / len(evenings)
    away = (evening_c - mean) ** 2 / math.fsum((one - mean) ** 2 for one in evenings)
    spread = math.sqrt(said.sd_k**2 * (1.0 + 1.0 / count + away) + ELSEWHERE_K**2)
    chance = NormalDist(said.minimum_c, spread).cdf(0.0)
    return replace(said, sd_k=spread, frost_chance=chance)


def night_by_reading(said: Tonight, day: date, evening_c: float) -> Night | None:
    """Give the night that begins on the day as the reading has it; None under cloud or in wind.

    It stands beside the forecast's and is never joined with it: of two answers that disagree the worse is used.

    Parameters
    ----------
    evening_c : two hours after sunset, which stands for the highest temperature of the day [degrees C]
    """
    if not said.holds:
        return None
    return Night(day, said.minimum_c, said.sd_k, evening_c, WeatherSource.FORECAST)


def _line(x: Sequence[float], y: Sequence[float]) -> tuple[float, float]:
    """Give slope and intercept of the least-squares line.

    Raises
    ------
    ValueError
        when all x are alike
    """
    count = len(x)
    mean_x, mean_y = math.fsum(x) / count, math.fsum(y) / count
    spread = math.fsum((a - mean_x) ** 2 for a in x)
    if spread == 0.0:
        raise ValueError("All evenings are alike, so no rule can be fitted.")
    slope = math.fsum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / spread
    return slope, mean_y - slope * mean_x
