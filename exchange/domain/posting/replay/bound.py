"""A bound below which no rule can come: the dual of the dynamic program, on drawn paths.

Along every drawn path the best day is taken with hindsight, but paid for with the martingale of our own
estimate of what waiting is worth; its mean is a lower bound on the cost of any rule in the drawn process. The step of the
martingale is estimated without bias from draws of tomorrow, so the bound holds in the mean.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay.belief import NIGHTS, turned
from exchange.domain.posting.replay.expected import AHEAD, TwoEnds, frosted
from exchange.domain.posting.replay.process import MOST_WAIT, READY_WITHIN, SUNDAY
from exchange.domain.posting.replay.springs import READY
from exchange.domain.posting.replay.value import Worth, next_mean

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

PATHS, TOMORROWS = 168, 32
"""Paths over all pairs for each day of readiness, and tomorrows drawn on each day of a path."""
READY_EVERY = 7
"""Days of readiness are taken at this step, one weekday after the other [d]."""


@dataclass(frozen=True, slots=True)
class WaitingBound:
    """The bound at one price of waiting, beside our rule on the same paths.

    Attributes
    ----------
    price : of a day's waiting [frosted nights]
    least : bound on frosted nights plus price times wait, a parcel
    unsure : standard error of the bound
    ours : the same of our rule, less the same martingale, so that the same luck of the draw is in both
    wait, frosted : of our rule, mean [d] and in 100 parcels
    """

    price: float
    least: float
    unsure: float
    ours: float
    wait: float
    frosted: float


def bound(pairs: Sequence[TwoEnds], worth: Worth, chance: np.random.Generator) -> WaitingBound:
    """Draw paths and bound the cost of any rule on them."""
    # As many paths for each weekday, so that no weekday weighs more than another.
    each = max(2, -(-PATHS // (7 * len(pairs)))) * 7
    found = [
        _paths(pair, worth, READY + start, each, chance)
        for pair in pairs
        for start in range(0, READY_WITHIN, READY_EVERY)
    ]
    least, ours, wait, nights = (np.concatenate(column) for column in zip(*found, strict=True))
    return WaitingBound(
        worth.price,
        float(least.mean()),
        float(least.std() / np.sqrt(len(least))),
        float(ours.mean()),
        float(wait.mean()),
        100 * float(nights.mean()),
    )


def _paths(
    pair: TwoEnds, worth: Worth, ready: int, count: int, chance: np.random.Generator
) -> tuple[Array, Array, Array, Array]:
    """Follow paths of one pair; give the dual cost, ours, our wait and our frosted nights."""
    starts = np.arange(count) % 7
    mean = turned(chance.standard_normal((count, 2 * NIGHTS)), pair.known.settled)
    paid, least = np.zeros(count), np.full(count, np.inf)
    wait, nights, ours = np.full(count, np.nan), np.full(count, np.nan), np.full(count, np.nan)
    for waited in range(MOST_WAIT + 2):
        weekdays = (starts + waited) % 7
        cost, later = _stand(pair, worth, mean, (ready + waited, waited), weekdays)
        open_today = weekdays != SUNDAY
        reached = open_today & np.isfinite(cost)
        least[reached] = np.minimum(least, cost + worth.price * waited - paid)[reached]
        going = np.isnan(wait) & open_today & ((cost <= later) | (waited >= MOST_WAIT))
        wait[going], nights[going] = waited, cost[going]
        ours[going] = (cost + worth.price * waited - paid)[going]
        if waited > MOST_WAIT:
            break
        coming = next_mean(pair, mean, chance)
        when, after = (ready + waited + 1, waited + 1), (weekdays + 1) % 7
        drawn = next_mean(pair, np.repeat(mean, TOMORROWS, axis=0), chance)
        expected = _value(pair, worth, drawn, when, np.repeat(after, TOMORROWS))
        paid += _value(pair, worth, coming, when, after)
        paid -= expected.reshape(count, TOMORROWS).mean(axis=1)
        mean = coming
    return least, ours, wait, nights


def _stand(
    pair: TwoEnds, worth: Worth, mean: Array, when: tuple[int, int], weekdays: Whole
) -> tuple[Array, Array]:
    """Give the cost of posting today and of waiting, for cases of all weekdays."""
    day, waited = when
    costs = frosted(pair, mean, np.full(len(mean), day), weekdays)
    later = np.empty(len(mean))
    remaining = max(MOST_WAIT - waited, 0)
    for weekday in range(7):
        rows = weekdays == weekday
        if rows.any():
            left = np.full(rows.sum(), remaining) if remaining < AHEAD else None
            later[rows] = worth.waiting(pair.ends, costs[rows], (day, weekday), left)
    return costs[:, 0], later


def _value(
    pair: TwoEnds, worth: Worth, mean: Array, when: tuple[int, int], weekdays: Whole
) -> Array:
    cost, later = _stand(pair, worth, mean, when, weekdays)
    return np.where(np.isinf(later), cost, np.minimum(cost, later))
