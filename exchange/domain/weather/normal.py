"""The normal distribution: density, chance and quantile."""

import math
from statistics import NormalDist

_STANDARD = NormalDist()


def density(z: float) -> float:
    """Give the standard normal density at z."""
    return math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)


def chance_below(value: float, mean: float = 0.0, sd: float = 1.0) -> float:
    """Give the chance that a normal quantity lies below the value.

    Raises
    ------
    ValueError
        when sd is not positive
    """
    if sd <= 0.0:
        raise ValueError("A spread must be positive.")
    return 0.5 * math.erfc((mean - value) / (sd * math.sqrt(2.0)))


def quantile(share: float, mean: float = 0.0, sd: float = 1.0) -> float:
    """Give the value below which the share lies; the share lies strictly between 0 and 1."""
    return mean + sd * _STANDARD.inv_cdf(share)
