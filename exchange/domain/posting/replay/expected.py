"""Expected frosted nights of posting today or on one of the coming days, as things stand."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay.belief import NIGHTS, KalmanFilter
from exchange.domain.posting.replay.process import SUNDAY, in_transit
from exchange.domain.posting.replay.springs import DAYS, Springs

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

AHEAD = 9
"""Posting days looked at, today among them [d]."""
ROUNDING = 0.05
"""Minima are written to a tenth, so 0 C or less means less than this [degrees C]."""
ERF = (0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429)
ERF_SCALE = 0.3275911
LATER = 12
"""Days after which the forecast says no more than climate [d]."""


def normal_share(x: Array) -> Array:
    """Give the standard normal distribution function, to 1e-7 (Abramowitz and Stegun 7.1.26)."""
    t = 1 / (1 + ERF_SCALE * np.abs(x) / np.sqrt(2))
    series = np.zeros_like(t)
    for factor in reversed(ERF):
        series = t * (factor + series)
    tail = series * np.exp(-x * x / 2) / 2
    found: Array = np.where(x > 0, 1 - tail, tail)
    return found


@dataclass(frozen=True, slots=True)
class TwoEnds:
    """Two ends, with the filter between them.

    Attributes
    ----------
    usual, spread : minima of sender and receiver (2, nights)
    """

    ends: tuple[int, int]
    known: KalmanFilter
    usual: Array
    spread: Array


def pair_of(springs: Springs, ends: tuple[int, int], known: KalmanFilter) -> TwoEnds:
    """Lay out a pair of files."""
    return TwoEnds(ends, known, springs.usual[list(ends)], springs.spread[list(ends)])


def frosted(pair: TwoEnds, mean: Array, days: Whole, weekdays: Whole) -> Array:
    """Give the expected frosted nights of posting in 0, 1 ... days.

    Parameters
    ----------
    mean : standard departures expected (cases, 2 x NIGHTS)
    days, weekdays : of each case

    Returns
    -------
    array (cases, AHEAD)
        infinite on Sundays [nights]
    """
    nights = np.minimum(days[:, None] + np.arange(NIGHTS), DAYS - 1)
    chances = []
    for end in range(2):
        edge = (ROUNDING - pair.usual[end, nights]) / pair.spread[end, nights]
        half = slice(end * NIGHTS, (end + 1) * NIGHTS)
        chances.append(normal_share((edge - mean[:, half]) / pair.known.spread[half]))
    still = in_transit()
    found = np.empty((len(mean), AHEAD))
    for ahead in range(AHEAD):
        posted = (weekdays + ahead) % 7
        found[:, ahead] = chances[0][:, ahead]
        for night in range(1, min(still.shape[1], NIGHTS - ahead)):
            found[:, ahead] += still[posted, night] * chances[1][:, ahead + night]
        found[posted == SUNDAY, ahead] = np.inf
    return found


def later(pair: TwoEnds) -> Array:
    """Give what posting costs a fortnight on, when nothing is known of the weather (days)."""
    days = np.minimum(np.arange(DAYS) + LATER, DAYS - 1)
    chances = [
        normal_share((ROUNDING - pair.usual[end, days]) / pair.spread[end, days])
        for end in range(2)
    ]
    waiting_nights = in_transit()[0, 1:].sum()
    found: Array = chances[0] + waiting_nights * chances[1]
    return found
