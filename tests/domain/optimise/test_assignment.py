"""One choice per group at the least cost, against all choices there are."""

from itertools import product

import numpy as np
import pytest

from exchange.domain.optimise.assignment import Assignment, Limit, assign


def allowed(chosen, limits):
    return all(
        sum(
            weight
            for column, weight in zip(limit.columns, limit.weights, strict=True)
            if column in chosen
        )
        <= limit.most
        for limit in limits
    )


@pytest.mark.parametrize("seed", range(12))
def test_no_choice_within_the_limits_is_cheaper(seed):
    chance = np.random.default_rng(seed)
    groups = [range(4 * n, 4 * n + 4) for n in range(4)]
    costs = [int(cost) for cost in chance.integers(0, 1000, 16)]
    limits = [
        Limit(tuple(int(one) for one in chance.choice(16, 6, replace=False)), weights, 4)
        for weights in ((1,) * 6, (1, 2, 3, 1, 2, 3), (4, 1, 1, 3, 3, 1))
    ]
    possible = [
        sum(costs[column] for column in chosen)
        for chosen in product(*groups)
        if allowed(chosen, limits)
    ]

    found = assign(groups, costs, limits)

    assert [chosen in group for chosen, group in zip(found.chosen, groups, strict=True)] == [
        True
    ] * 4
    assert allowed(found.chosen, limits)
    assert found.proven
    assert found.cost == sum(costs[column] for column in found.chosen) == min(possible)


def test_nothing_to_choose_costs_nothing():
    assert assign((), (), ()) == Assignment((), 0, 0.0, proven=True)
