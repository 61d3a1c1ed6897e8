"""Futures of the weather: a fixed set of correlated nights, the same every time they are made."""

import math
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

NIGHT_CORRELATION = 0.7
"""Correlation of the errors of neighbouring nights, as along the lead times of a forecast (judgement)."""


def _primes(count: int) -> list[int]:
    found: list[int] = []
    number = 2
    while len(found) < count:
        if all(number % prime for prime in found):
            found.append(number)
        number += 1
    return found


@lru_cache(maxsize=32)
def night_errors(nights: int, scenarios: int, after: int = 0) -> Array:
    """Give standard normal errors for some nights in a number of futures, equally likely.

    Innovations come from a lattice of square roots of primes, so no chance is used; they are joined
    as an autoregression from night to night, and every night is then set to the exact quantiles
    (i + 1/2) / scenarios of the standard normal in that order, so that each night alone has the
    right spread.

    Parameters
    ----------
    after : primes passed over, for errors of another kind

    Returns
    -------
    array (nights, scenarios)
    """
    quantiles = np.array(
        [NormalDist().inv_cdf((index + 0.5) / scenarios) for index in range(scenarios)]
    )
    spread = math.sqrt(1 - NIGHT_CORRELATION**2)
    before = np.zeros(scenarios)
    errors = np.empty((nights, scenarios))
    for night, prime in enumerate(_primes(after + nights)[after:]):
        lattice = (np.arange(1, scenarios + 1) * math.sqrt(prime)) % 1.0
        fresh = quantiles[np.argsort(np.argsort(lattice, kind="stable"), kind="stable")]
        mixed = fresh if night == 0 else NIGHT_CORRELATION * before + spread * fresh
        before = quantiles[np.argsort(np.argsort(mixed, kind="stable"), kind="stable")]
        errors[night] = before
    errors.setflags(write=False)
    return errors
