"""What waiting is worth: an approximate dynamic program over what tomorrow's forecast may tell.

Beliefs are drawn forward in the Gaussian process of the springs, and the cost of waiting a day is fitted
backward, day by day of the axis and weekday by weekday, as a share of the best day open today. The
share is fitted by least squares, so an expectation stays an expectation.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay.belief import NIGHTS, turned
from exchange.domain.posting.replay.expected import AHEAD, TwoEnds, frosted, later

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

FIRST, LAST = 14, 98
"""Days of the axis on which waiting is valued."""
DRAWN = 240
"""Beliefs drawn for each weekday, over all pairs."""
LEAST_SHARE = 0.02
"""Least worth of waiting as a share of the best day open."""
RIDGE = 1e-5
WORST_RATIO, LEAST_RATIO, LEAST_COST = 4.0, 1e-3, 1e-9


@dataclass(frozen=True, slots=True)
class DrawnBeliefs:
    """Beliefs drawn forward for one pair.

    Attributes
    ----------
    costs : frosted nights of posting in 0, 1 ... days (cases, days, AHEAD)
    weekdays : weekday of the first day of the axis, of each case
    """

    costs: Array
    weekdays: Whole


def draw(pairs: Sequence[TwoEnds], chance: np.random.Generator) -> tuple[DrawnBeliefs, ...]:
    """Draw beliefs forward for all pairs, as many for each weekday."""
    each = -(-DRAWN // len(pairs))
    return tuple(_drawn(pair, each, chance) for pair in pairs)


def _drawn(pair: TwoEnds, each: int, chance: np.random.Generator) -> DrawnBeliefs:
    starts = np.repeat(np.arange(7), each)
    mean = turned(chance.standard_normal((len(starts), 2 * NIGHTS)), pair.known.settled)
    costs = np.empty((len(starts), LAST - FIRST + 1, AHEAD))
    for day in range(FIRST, LAST + 1):
        days = np.full(len(starts), day)
        costs[:, day - FIRST] = frosted(pair, mean, days, (starts + day) % 7)
        mean = next_mean(pair, mean, chance)
    return DrawnBeliefs(costs, starts)


def next_mean(pair: TwoEnds, mean: Array, chance: np.random.Generator) -> Array:
    """Draw what will be expected a day later."""
    news = turned(chance.standard_normal(mean.shape), pair.known.stirred)
    return turned(mean, pair.known.shift) + news


def best_open(costs: Array, price: float, usual: Array, left: Whole | None = None) -> Array:
    """Give the cost of the best later day, as things stand, with its waiting.

    Parameters
    ----------
    usual : cost of posting a fortnight on
    left : days that may still be waited; without it there is no end
    """
    waited = costs[:, 1:] + price * np.arange(1, AHEAD)
    if left is None:
        far = usual + price * (AHEAD + 1)
        open_ended: Array = np.maximum(np.minimum(waited.min(axis=1), far), LEAST_COST)
        return open_ended
    allowed = np.arange(1, AHEAD) <= left[:, None]
    ends_on_sunday = np.isinf(np.take_along_axis(costs, np.minimum(left, AHEAD - 1)[:, None], 1))
    allowed |= ends_on_sunday & (np.arange(1, AHEAD) == left[:, None] + 1)
    best = np.where(allowed, waited, np.inf).min(axis=1)
    far = np.where(left >= AHEAD, usual + price * (AHEAD + 1), np.inf)
    found: Array = np.maximum(np.minimum(best, far), LEAST_COST)
    return found


def features(costs: Array, price: float, usual: Array) -> Array:
    """Give what the share is fitted on (cases, features)."""
    best = best_open(costs, price, usual)
    waited = costs[:, 1:] + price * np.arange(1, AHEAD)
    ratio = np.clip(waited / best[:, None], LEAST_RATIO, WORST_RATIO)
    logs, level, dear = np.log(ratio), np.log(best), price / best
    far = np.log(np.maximum(usual, LEAST_COST) / best)
    today = np.log(np.clip(costs[:, 0] / best, np.exp(-4), np.exp(2)))
    today[np.isinf(costs[:, 0])] = 0.0  # no post today, a Sunday: the feature says nothing
    plain = [np.ones_like(best), level, level**2, dear, dear**2, dear**3, level * dear]
    plain += [far, far**2, far * dear, today, today**2]
    return np.concatenate([np.stack(plain, 1), logs, logs**2, logs * dear[:, None]], axis=1)


@dataclass(frozen=True, slots=True)
class Worth:
    """The fitted worth of waiting at one price.

    Attributes
    ----------
    price : of a day's waiting [frosted nights]
    weights : (day of the axis, weekday) -> weights of the features
    usual : of each pair, by its ends
    """

    price: float
    weights: Mapping[tuple[int, int], Array]
    usual: Mapping[tuple[int, int], Array]

    def waiting(
        self, ends: tuple[int, int], costs: Array, when: tuple[int, int], left: Whole | None = None
    ) -> Array:
        """Give the expected cost of waiting a day and then continuing as well as possible.

        Parameters
        ----------
        when : day of the axis and weekday
        left : days that may still be waited
        """
        usual = np.full(len(costs), self.usual[ends][when[0]])
        best = best_open(costs, self.price, usual, left)
        if when not in self.weights:
            return best
        share = (features(costs, self.price, usual) * self.weights[when]).sum(axis=1)
        found: Array = np.maximum(np.clip(share, LEAST_SHARE, 1) * best, self.price)
        return found


def fit(pairs: Sequence[TwoEnds], drawn: Sequence[DrawnBeliefs], price: float) -> Worth:
    """Fit the worth of waiting backward from the end of the axis."""
    usual = {pair.ends: later(pair) for pair in pairs}
    weights: dict[tuple[int, int], Array] = {}
    worth = Worth(price, weights, usual)
    then = [np.zeros(len(one.weekdays)) for one in drawn]
    for day in range(LAST, FIRST - 1, -1):
        for weekday in range(7):
            chosen = [np.flatnonzero((one.weekdays + day) % 7 == weekday) for one in drawn]
            costs = [one.costs[rows, day - FIRST] for one, rows in zip(drawn, chosen, strict=True)]
            if day < LAST:
                tomorrow = [past[rows] for past, rows in zip(then, chosen, strict=True)]
                weights[day, weekday] = _weights(worth, pairs, costs, tomorrow, day)
            for pair, past, rows, cost in zip(pairs, then, chosen, costs, strict=True):
                waiting = worth.waiting(pair.ends, cost, (day, weekday))
                past[rows] = np.minimum(cost[:, 0], waiting)
    return worth


def _weights(
    worth: Worth,
    pairs: Sequence[TwoEnds],
    costs: Sequence[Array],
    tomorrow: Sequence[Array],
    day: int,
) -> Array:
    usual = np.concatenate(
        [np.full(len(one), worth.usual[p.ends][day]) for p, one in zip(pairs, costs, strict=True)]
    )
    together = np.concatenate(costs)
    seen = features(together, worth.price, usual)
    target = (np.concatenate(tomorrow) + worth.price) / best_open(together, worth.price, usual)
    square = turned(seen.T, seen.T) + RIDGE * len(seen) * np.eye(seen.shape[1])
    wanted = (seen * target[:, None]).sum(axis=0)
    return np.asarray(np.linalg.solve(square, wanted), dtype=np.float64)
