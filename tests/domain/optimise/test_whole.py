"""The best whole-number answer: what is known is kept only while it is better, and bounds hold whatever is cut short."""

import random

import numpy as np
import pytest

from exchange.domain.optimise import whole
from exchange.domain.optimise.branch import Aim
from exchange.domain.optimise.grid import Face, make_grid, whole_face
from exchange.domain.optimise.programme import SolverFailed, never_stop
from exchange.domain.optimise.whole import SearchHints, best_whole


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


def best_of(grid, face, cost):
    return best_whole(grid, face, Aim("test", cost, never_stop)).value


@pytest.fixture
def as_large(monkeypatch):
    monkeypatch.setattr(whole, "LARGE", 0)


def the_fixed_alone(grid):
    known = np.zeros(grid.columns, dtype=np.int64)
    known[0] = 1
    return known


@pytest.mark.parametrize("number", range(5))
def test_a_worse_answer_that_is_known_is_not_kept(number):
    grid, face, cost = a_knapsack(number)
    sides = SearchHints(known=the_fixed_alone(grid))

    found = best_whole(grid, face, Aim("test", cost, never_stop), sides)

    assert found.value == int(cost @ found.x) == best_of(grid, face, cost)


def test_a_better_answer_that_is_known_is_kept(monkeypatch):
    grid, face, cost = a_knapsack()
    best = best_whole(grid, face, Aim("test", cost, never_stop))

    def nothing_found(*_args, **_more):
        raise SolverFailed("too few branches")

    monkeypatch.setattr(whole, "solve_whole", nothing_found)
    kept = best_whole(grid, face, Aim("test", cost, never_stop), SearchHints(known=best.x))
    assert (kept.x == best.x).all()
    assert kept.value == best.value


@pytest.mark.parametrize("number", range(5))
def test_a_bound_holds_though_no_answer_was_found(monkeypatch, number):
    grid, face, cost = a_knapsack(number)
    best = best_of(grid, face, cost)

    def nothing_found(*_args, **_more):
        raise SolverFailed("too few branches")

    monkeypatch.setattr(whole, "solve_whole", nothing_found)
    found = best_whole(grid, face, Aim("test", cost, never_stop))

    assert found.x is None
    assert found.bound >= best


@pytest.mark.parametrize("number", range(5))
def test_a_large_search_takes_what_is_better_than_the_answer_it_knows(as_large, number):
    grid, face, cost = a_knapsack(number)
    known = the_fixed_alone(grid)

    found = best_whole(grid, face, Aim("test", cost, never_stop), SearchHints(known=known))

    assert found.value == int(cost @ found.x) > int(cost @ known)
    assert found.bound >= found.value


def test_in_a_large_search_the_aim_counts_far_above_what_comes_after_it():
    cost, after = np.array([1, 0, 0]), np.array([-7, 5, 3])
    joined = SearchHints(after=after).joined(cost)
    assert joined[0] > 100 * joined[1:].sum()
    assert joined[1] > joined[2]
    assert (SearchHints().joined(cost) == cost).all()


@pytest.fixture
def as_middling(monkeypatch):
    """Give a way to search a number of branches first."""

    def search_first(branches):
        monkeypatch.setattr(whole, "MIDDLING", 0)
        monkeypatch.setattr(whole, "MIDDLING_NODES", branches)

    return search_first


def test_a_middling_programme_is_left_after_few_branches_and_its_bound_still_holds(as_middling):
    grid, face, cost = a_hard_one()
    best = best_whole(grid, face, Aim("test", cost, never_stop))
    as_middling(1)

    short = best_whole(grid, face, Aim("test", cost, never_stop))

    assert short.value <= best.value == best.bound < short.bound


def test_a_middling_programme_without_an_answer_after_few_branches_is_searched_on(as_middling):
    grid, face, cost = a_knapsack(2, columns=40)
    best = best_whole(grid, face, Aim("test", cost, never_stop))
    as_middling(0)

    assert best_whole(grid, face, Aim("test", cost, never_stop)).value == best.value
