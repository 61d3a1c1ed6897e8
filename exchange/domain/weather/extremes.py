"""Rare cold: risk over several years, and the Gumbel law of yearly minima.

References
----------
[1] Snyder and de Melo-Abreu 2005, Frost protection, FAO, volume 2 chapter 1.
[2] Haan 1979, Statistical Methods in Hydrology (the moments; from memory).
"""

import math
from dataclasses import dataclass

_EULER = 0.5772156649015329


def risk_over(yearly_chance: float, years: int) -> float:
    """Give the chance that something of this yearly chance comes at least once in so many years."""
    return 1.0 - math.pow(1.0 - yearly_chance, years)


def yearly_chance_for(risk: float, years: int) -> float:
    """Give the yearly chance that leaves this risk over so many years."""
    return 1.0 - math.pow(1.0 - risk, 1.0 / years)


@dataclass(frozen=True, slots=True)
class YearlyMinimum:
    """The Gumbel law of the coldest night of a year.

    Attributes
    ----------
    scale, location : alpha and beta of F(x) = 1 - exp(-exp((x - beta) / alpha)) [K, degrees C]
    """

    scale: float
    location: float

    def chance_at_most(self, minimum_c: float) -> float:
        """Give the chance that the year's minimum is no higher than this [degrees C]."""
        return -math.expm1(-math.exp((minimum_c - self.location) / self.scale))

    def minimum_at(self, yearly_chance: float) -> float:
        """Give the minimum that a year undercuts with this chance [degrees C]."""
        return self.location + self.scale * math.log(-math.log1p(-yearly_chance))


def yearly_minimum(mean_c: float, sd_k: float) -> YearlyMinimum:
    """Fit the law by moments: alpha = s sqrt(6) / pi, beta = mean + 0.5772 alpha."""
    scale = sd_k * math.sqrt(6.0) / math.pi
    return YearlyMinimum(scale, mean_c + _EULER * scale)
