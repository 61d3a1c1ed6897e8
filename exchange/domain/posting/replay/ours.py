"""Our rule in a replay: post when that costs no more than waiting is worth."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay import belief
from exchange.domain.posting.replay.expected import AHEAD, TwoEnds, frosted, pair_of
from exchange.domain.posting.replay.process import LEADS, MOST_WAIT, ReplayParcel, skill
from exchange.domain.posting.replay.rules import Rule
from exchange.domain.posting.replay.springs import DAYS, Springs
from exchange.domain.posting.replay.value import Worth

Array = NDArray[np.float64]
Ends = tuple[int, int]


def pairs_of(springs: Springs) -> tuple[TwoEnds, ...]:
    """Lay out all pairs of files, either way round; a single file with itself."""
    files = range(len(springs.names))
    ends = [(a, b) for a in files for b in files if a != b] or [(0, 0)]
    nightly, across = belief.correlations(springs)
    made = {}
    for pair in ends:
        low, high = sorted(pair)
        if (low, high) not in made:
            made[low, high] = belief.settled_filter(nightly, float(across[low, high]))
    return tuple(pair_of(springs, pair, made[min(pair), max(pair)]) for pair in ends)


@dataclass(frozen=True, slots=True)
class PostingCosts:
    """What posting costs on every day of every spring as the forecasts stood (springs, days, AHEAD)."""

    costs: Mapping[Ends, Array]
    weekdays: NDArray[np.int64]


def standing(springs: Springs, drawn: Array, pairs: Sequence[TwoEnds]) -> PostingCosts:
    """Follow the forecasts of all springs for all pairs."""
    days = np.arange(DAYS - LEADS)
    weekdays = (springs.weekdays[:, None] + days) % 7
    costs = {}
    for pair in pairs:
        mean = belief.means(springs, drawn, pair.ends, pair.known)[:, days]
        flat = frosted(
            pair,
            mean.reshape(-1, mean.shape[2]),
            np.tile(days, len(springs.years)),
            weekdays.reshape(-1),
        )
        costs[pair.ends] = flat.reshape(*weekdays.shape, AHEAD)
    return PostingCosts(costs, weekdays)


def open_ended(stood: PostingCosts, worth: Worth) -> dict[Ends, Array]:
    """Give what waiting is worth on every day of every spring, far from the last day (springs, days)."""
    found = {}
    for ends, costs in stood.costs.items():
        later = np.empty(costs.shape[:2])
        for day in range(costs.shape[1]):
            for weekday in range(7):
                rows = np.flatnonzero(stood.weekdays[:, day] == weekday)
                if len(rows):
                    later[rows, day] = worth.waiting(ends, costs[rows, day], (day, weekday))
        found[ends] = later
    return found


def rule_at(stood: PostingCosts, worth: Worth) -> Rule:
    """Give our rule at the price of a fitted worth."""
    later = open_ended(stood, worth)

    def rule(one: ReplayParcel, day: int, on: int) -> bool:
        ends = (one.sender, one.receiver)
        cost = stood.costs[ends][one.spring, day]
        left = one.ready + MOST_WAIT - day
        if left >= AHEAD:
            return bool(cost[0] <= later[ends][one.spring, day])
        near = worth.waiting(ends, cost[None], (day, on), np.array([left]))
        return bool(cost[0] <= near[0])

    return rule


def newest_alone(springs: Springs, drawn: Array, pairs: Sequence[TwoEnds]) -> PostingCosts:
    """Follow only the newest forecast, each end by itself: what a plain one-step rule sees."""
    spread = np.ones(belief.NIGHTS)
    spread[:LEADS] = np.sqrt(1 - skill())
    days = np.arange(DAYS - LEADS)
    weekdays = (springs.weekdays[:, None] + days) % 7
    costs = {}
    for pair in pairs:
        plain = replace(pair, known=replace(pair.known, spread=np.tile(spread, 2)))
        mean = np.zeros((len(springs.years), len(days), 2, belief.NIGHTS))
        for place, end in enumerate(pair.ends):
            for lead in range(LEADS):
                nights = days + lead
                departure = drawn[end, :, days, lead].T - springs.usual[end, nights]
                mean[:, :, place, lead] = departure / springs.spread[end, nights]
        flat = frosted(
            plain,
            mean.reshape(-1, 2 * belief.NIGHTS),
            np.tile(days, len(springs.years)),
            weekdays.reshape(-1),
        )
        costs[pair.ends] = flat.reshape(*weekdays.shape, AHEAD)
    return PostingCosts(costs, weekdays)


def one_step_rule(stood: PostingCosts, price: float) -> Rule:
    """Give the plain rule: post unless a later day looks better by more than its waiting costs."""

    def rule(one: ReplayParcel, day: int, _on: int) -> bool:
        cost = stood.costs[one.sender, one.receiver][one.spring, day]
        return bool(cost[0] <= (cost[1:] + price * np.arange(1, AHEAD)).min())

    return rule
