"""Gathered columns: the same best value, an answer and duals that hold in the plain programme."""

import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import linprog

from exchange.domain.optimise import gather
from exchange.domain.optimise.gather import LEAST_TOGETHER, gathered
from exchange.domain.optimise.grid import (
    dual_bound,
    make_grid,
    programme,
    reduced_costs,
    whole_duals,
    whole_face,
)
from exchange.domain.optimise.programme import never_stop
from exchange.domain.optimise.solve import solve_linear

SCALE = 10**6


def a_circle(number, pools=9, claims=5, households=2):
    """Pools that serve claims of households with a ladder each: columns of one claim differ only in their pool."""
    chance = random.Random(number)
    pairs = [(p, c) for p in range(pools) for c in range(claims) if chance.random() < 0.8]
    steps = [(len(pairs) + 4 * h + k, h) for h in range(households) for k in range(4)]
    of_pool = [[(i, 1) for i, (p, _) in enumerate(pairs) if p == pool] for pool in range(pools)]
    of_claim = [[(i, 1) for i, (_, c) in enumerate(pairs) if c == claim] for claim in range(claims)]
    ladders = [
        [(step, 1) for step, owner in steps if owner == h]
        + [(i, -1) for i, (_, c) in enumerate(pairs) if c % households == h]
        for h in range(households)
    ]
    limits = [chance.randint(1, 2) for _ in of_pool]
    limits += [chance.randint(1, 3) for _ in of_claim] + [0] * households
    upper = [chance.randint(1, 2) for _ in pairs] + [1] * len(steps)
    grid = make_grid([*of_pool, *of_claim, *ladders], limits, upper)
    cost = np.zeros(grid.columns, dtype=np.int64)
    cost[: len(pairs)] = [chance.randint(0, 2) for _ in pairs]
    for place, (step, _) in enumerate(steps):
        cost[step] = 9 - 2 * (place % 4)
    lower = np.zeros(grid.columns, dtype=np.int64)
    lower[0] = chance.randint(0, 1)
    face = replace(whole_face(grid), lower=lower)
    return grid, face, cost


def by_another_solver(plain):
    dense = np.zeros((len(plain.limits), len(plain.cost)))
    row_of = np.repeat(np.arange(len(plain.limits)), np.diff(plain.starts))
    np.add.at(dense, (row_of, plain.index), plain.value)
    bounds = np.stack([plain.lower, plain.upper], axis=1)
    return linprog(-plain.cost, A_ub=dense, b_ub=plain.limits, bounds=bounds, method="highs")


@pytest.mark.parametrize("number", range(40))
def test_value_answer_and_duals_hold_in_the_plain_programme(number):
    grid, face, cost = a_circle(number)
    plain = programme(grid, face, cost)
    wide = gathered(plain)
    assert len(wide.cost) > len(plain.cost)
    assert len(wide.index) < len(plain.index) + len(wide.cost)

    answer = solve_linear(wide, "test", never_stop)

    best = -by_another_solver(plain).fun
    assert answer.value == pytest.approx(best)
    x = answer.x[: grid.columns]
    used = np.zeros(len(grid.limits))
    np.add.at(used, grid.row_of, grid.value * x[grid.index])
    assert (used <= grid.limits + 1e-6).all()
    assert (face.lower - 1e-6 <= x).all()
    assert (x <= face.upper + 1e-6).all()
    duals = whole_duals(face, answer.duals[: len(grid.limits)], SCALE)
    proven = dual_bound(grid, face, reduced_costs(grid, cost * SCALE, duals), duals)
    assert proven == pytest.approx(best * SCALE, rel=1e-6)


def test_only_columns_alike_in_every_row_but_their_first_are_gathered(monkeypatch):
    grid, face, cost = a_circle(3)
    plain = programme(grid, face, cost)
    gathered_well = gathered(plain)

    # With sums that tell nothing apart, columns still are.
    monkeypatch.setattr(gather, "_mixed", lambda row, _value: np.zeros(len(row), dtype=np.uint64))
    by_chance = gathered(plain)

    row_of = np.repeat(np.arange(len(plain.limits)), np.diff(plain.starts))
    tails = {
        column: (
            tuple(row_of[plain.index == column][1:]),
            tuple(plain.value[plain.index == column][1:]),
        )
        for column in range(len(plain.cost))
    }
    for wide in (gathered_well, by_chance):
        for row in range(len(plain.limits), len(wide.limits)):
            columns = wide.index[wide.starts[row] : wide.starts[row + 1]]
            assert len(columns) > LEAST_TOGETHER
            assert len({tails[column] for column in columns.tolist()[:-1]}) == 1


def test_a_programme_with_nothing_to_gather_stays_as_it_is():
    grid = make_grid([[(0, 1), (1, 1)], [(1, 2), (2, 1)]], [3, 4], [2, 2, 2])
    plain = programme(grid, whole_face(grid), np.array([1, 1, 1]))
    assert gathered(plain) is plain


ODD = (
    [(6, 1), (7, 1)],
    [(6, 1), (7, 2), (8, 1)],
    [(6, 1), (7, 1), (9, 1)],
    [(6, 1), (7, 1), (8, 1), (9, 1)],
)


@pytest.mark.parametrize("odd", ODD)
@pytest.mark.parametrize("leads", [False, True])
def test_columns_that_share_only_some_of_their_rows_are_told_apart(monkeypatch, odd, leads):
    """Five columns stand in rows 6 to 8, one in other rows or with another number; sums tell nothing apart."""
    monkeypatch.setattr(gather, "_mixed", lambda row, _value: np.zeros(len(row), dtype=np.uint64))
    columns = [[(6, 1), (7, 1), (8, 1)] for _ in range(5)]
    columns.insert(0 if leads else 5, odd)
    rows = [[(column, 1)] for column in range(6)] + [[], [], [], []]
    for column, entries in enumerate(columns):
        for row, value in entries:
            rows[row].append((column, value))
    grid = make_grid(rows, [2] * 6 + [4, 5, 3, 1], [2] * 6)
    cost = np.insert([7, 5, 4, 6, 2], 0 if leads else 5, 1)
    plain = programme(grid, whole_face(grid), cost)

    answer = solve_linear(gathered(plain), "test", never_stop)

    assert answer.value == pytest.approx(-by_another_solver(plain).fun)
