"""The best whole-number answer: what is known is kept only while it is better, and bounds hold whatever is cut short."""

import random

import numpy as np
import pytest

from exchange.domain.optimise import whole
from exchange.domain.optimise.grid import Face, make_grid, whole_face
from exchange.domain.optimise.parts import Ends, SearchHints
from exchange.domain.optimise.programme import Aim, SolverFailed, never_stop
from exchange.domain.optimise.whole import best_whole

NOWHERE = Ends(*(np.empty(0, dtype=np.int64) for _ in range(3)))
PLAIN = SearchHints(NOWHERE)


def a_knapsack(number=1, columns=12):
    """Things of different size and worth in two bags, and one that is in whatever is chosen."""
    chance = random.Random(number)
    rows = [[(column, chance.randint(2, 9)) for column in range(columns)] for _ in range(2)]
    grid = make_grid(rows, [5 * columns // 2] * 2, [1] * columns)
    lower = np.zeros(columns, dtype=np.int64)
    lower[0] = 1
    cost = np.array([chance.randint(3, 12) for _ in range(columns)])
    cost[0] = 40
    return grid, Face(lower, grid.upper.copy(), np.zeros(2, dtype=bool)), cost


def a_hard_one():
    """Things in twenty bags at once, which takes many branches."""
    chance = random.Random(1)
    rows = [
        [(column, chance.randint(1, 4)) for column in range(50) if chance.random() < 0.7]
        for _ in range(20)
    ]
    grid = make_grid(rows, [48] * 20, [2] * 50)
    return grid, whole_face(grid), np.array([chance.randint(1, 9) for _ in range(50)])


def found_in(grid, face, cost, hints=PLAIN):
    return best_whole(grid, face, Aim("test", cost, never_stop), hints)


def the_fixed_alone(grid):
    known = np.zeros(grid.columns, dtype=np.int64)
    known[0] = 1
    return known


@pytest.mark.parametrize("number", range(5))
def test_a_worse_answer_that_is_known_is_not_kept(number):
    grid, face, cost = a_knapsack(number)
    found = found_in(grid, face, cost, SearchHints(NOWHERE, known=the_fixed_alone(grid)))

    assert found.value == int(cost @ found.x) == found_in(grid, face, cost).value


@pytest.mark.parametrize("number", range(5))
def test_where_the_search_finds_nothing_what_is_known_is_kept_and_the_bound_holds(
    monkeypatch, number
):
    grid, face, cost = a_knapsack(number)
    best = found_in(grid, face, cost)

    def nothing_found(*_args, **_more):
        raise SolverFailed("too few branches")

    monkeypatch.setattr(whole, "solve_whole", nothing_found)
    kept = found_in(grid, face, cost, SearchHints(NOWHERE, known=best.x))

    assert (kept.x == best.x).all()
    assert kept.bound >= kept.value == best.value


def test_in_a_large_search_the_aim_counts_far_above_what_comes_after_it():
    cost, after = np.array([1, 0, 0]), np.array([-7, 5, 3])
    joined = SearchHints(NOWHERE, after=after).joined(cost)
    assert joined[0] > 100 * joined[1:].sum()
    assert joined[1] > joined[2]
    assert (PLAIN.joined(cost) == cost).all()


def test_a_middling_programme_is_left_after_few_branches_and_its_bound_still_holds(monkeypatch):
    grid, face, cost = a_hard_one()
    best = found_in(grid, face, cost)
    monkeypatch.setattr(whole, "MIDDLING", 0)
    monkeypatch.setattr(whole, "MIDDLING_NODES", 1)

    short = found_in(grid, face, cost)

    assert short.value <= best.value == best.bound < short.bound


def test_no_answer_at_all_is_told():
    grid = make_grid([[(0, -1)]], [-2], [1])
    with pytest.raises(SolverFailed):
        found_in(grid, whole_face(grid), np.array([1]))
