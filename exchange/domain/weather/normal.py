"""The normal distribution: density, chance and quantile, and chains of correlated nights."""

import math
from collections.abc import Sequence
from statistics import NormalDist

import numpy as np

_STANDARD = NormalDist()
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(64)
_FAR = 8.5


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


def chance_any_below(
    threshold: float, means: Sequence[float], sds: Sequence[float], correlation: float
) -> float:
    """Give the chance that at least one of several consecutive quantities lies below a threshold.

    The standardised quantities form a stationary normal chain in which neighbours are correlated
    (first-order autoregression). The chance that none lies below is carried from one to the next by
    64-point Gauss-Legendre quadrature over what is still above, so no simulation is needed.

    Parameters
    ----------
    threshold : [unit of the quantities]
    means, sds : shape (n,), in order of time
    correlation : between neighbours, 0 to 0.97

    Returns
    -------
    chance : 0 to 1; 0 when there are no quantities

    Raises
    ------
    ValueError
        when a spread is not positive or the correlation is outside its range
    """
    # Measured with two nights: 64 points are exact to 1e-11 at 0.97 and out by 3e-5 at 0.99.
    if not 0.0 <= correlation <= 0.97:
        raise ValueError("The correlation of neighbouring nights lies between 0 and 0.97.")
    if any(sd <= 0.0 for sd in sds):
        raise ValueError("A spread must be positive.")
    bounds = [(threshold - mean) / sd for mean, sd in zip(means, sds, strict=True)]
    if not bounds:
        return 0.0
    step = math.sqrt(1.0 - correlation * correlation)
    nodes, weights = _above(bounds[0])
    alive = np.exp(-0.5 * nodes * nodes) / math.sqrt(2.0 * math.pi)
    for bound in bounds[1:]:
        following, following_weights = _above(bound)
        gap = (following[:, None] - correlation * nodes[None, :]) / step
        kernel = np.exp(-0.5 * gap * gap) / (step * math.sqrt(2.0 * math.pi))
        alive = kernel @ (weights * alive)
        nodes, weights = following, following_weights
    return float(min(1.0, max(0.0, 1.0 - np.dot(weights, alive))))


def _above(bound: float) -> tuple[np.ndarray, np.ndarray]:
    low = min(max(bound, -_FAR), _FAR)
    half = (_FAR - low) / 2.0
    return low + half * (_NODES + 1.0), half * _WEIGHTS
