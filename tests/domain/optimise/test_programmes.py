"""The wrapped solver: against enumeration and a second solver, with proofs that plain arithmetic repeats."""

import itertools
import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import linprog

from exchange.domain.optimise import solve
from exchange.domain.optimise.branch import maximise, proven_face, walk
from exchange.domain.optimise.grid import (
    Face,
    dual_bound,
    make_grid,
    reduced_costs,
    whole_face,
)
from exchange.domain.optimise.programme import Aim, SolverFailed, Stopped, never_stop
from exchange.domain.optimise.solve import solve_linear, solve_whole, solver_version


def a_problem(number, columns=5, rows=4):
    """Small coefficients, not of network shape, so that linear answers are often not whole."""
    chance = random.Random(number)
    entries = [
        [(column, chance.randint(1, 4)) for column in range(columns) if chance.random() < 0.7]
        for _ in range(rows)
    ]
    limits = [chance.randint(2, 9) for _ in range(rows)]
    cost = np.array([chance.randint(1, 9) for _ in range(columns)])
    return make_grid(entries, limits, [2] * columns), cost


def feasible(grid):
    for x in itertools.product(range(3), repeat=grid.columns):
        used = np.zeros(len(grid.limits), dtype=np.int64)
        np.add.at(used, grid.row_of, grid.value * np.array(x)[grid.index])
        if (used <= grid.limits).all():
            yield np.array(x)


@pytest.mark.parametrize("number", range(40))
def test_branches_find_what_enumeration_finds_and_every_leaf_proves_its_part(number):
    grid, cost = a_problem(number)

    best = maximise(grid, whole_face(grid), Aim("test", cost, never_stop))

    assert best.value == max(int(cost @ x) for x in feasible(grid))
    assert best.proven
    for leaf in best.leaves:
        assert leaf.bound <= best.value


def a_problem_with_steps(number):
    """Columns that gain by what others bring, rows that must be full, and columns that only use up limits."""
    chance = random.Random(number)
    rows = [[(column, 1) for column in range(6) if chance.random() < 0.6] for _ in range(3)]
    limits = [chance.randint(1, 4) for _ in range(3)]
    for step in (6, 7):
        rows.append([(step, 1)] + [(column, -1) for column in range(4) if chance.random() < 0.5])
        limits.append(0)
    rows.append([(column, -1) for column in range(2, 5) if chance.random() < 0.5])
    limits.append(-1 if rows[-1] else 0)
    # What a step needs may need another in its turn.
    rows.append([(0, 1), (5, -1)])
    limits.append(0)
    grid = make_grid(rows, limits, [2] * 8)
    full = np.zeros(len(rows), dtype=bool)
    full[chance.randrange(3)] = chance.random() < 0.5
    lower, upper = np.zeros(8, dtype=np.int64), np.full(8, 2, dtype=np.int64)
    lower[chance.randrange(6)] = chance.random() < 0.4
    upper[chance.randrange(1, 8)] = 1
    return grid, Face(lower, upper, full), chance.sample(range(6, 8), k=1)


@pytest.mark.parametrize("number", range(60))
def test_on_a_face_the_best_value_is_proven_and_every_best_answer_stays(number):
    grid, face, steps = a_problem_with_steps(number)
    cost = np.zeros(grid.columns, dtype=np.int64)
    cost[steps] = 3
    on_face = [
        x
        for x in feasible(grid)
        if (face.lower <= x).all()
        and (x <= face.upper).all()
        and all(
            sum(grid.value[grid.row_of == row] * x[grid.index[grid.row_of == row]])
            == grid.limits[row]
            for row in np.flatnonzero(face.equal)
        )
    ]

    aim = Aim("test", cost, never_stop)
    if not on_face:
        with pytest.raises(SolverFailed):
            maximise(grid, face, aim)
        return

    best = maximise(grid, face, aim)

    assert best.value == max(int(cost @ x) for x in on_face)
    assert any((best.x == x).all() for x in on_face)
    for leaf in best.leaves:
        reduced = reduced_costs(grid, cost * leaf.scale, leaf.duals)
        whole = dual_bound(grid, walk(face, leaf.path), reduced, leaf.duals)
        assert whole // leaf.scale == leaf.bound
    left = proven_face(grid, face, cost, best)
    assert (left is None) is (len(best.leaves) > 1)
    for x in on_face if left is not None else ():
        if int(cost @ x) == best.value:
            assert (left.lower <= x).all()
            assert (x <= left.upper).all()


@pytest.mark.parametrize("number", range(20))
def test_linear_answers_agree_with_another_solver_and_their_duals_prove_them(number):
    grid, cost = a_problem(number)
    face = whole_face(grid)
    answer = solve_linear(grid, face, Aim("test", cost, never_stop))
    dense = np.zeros((len(grid.limits), grid.columns))
    np.add.at(dense, (grid.row_of, grid.index), grid.value)

    other = linprog(-cost, A_ub=dense, b_ub=grid.limits, bounds=[(0, 2)] * grid.columns)

    assert answer.value == pytest.approx(-other.fun)
    duals = np.rint(answer.duals * 10**6).astype(np.int64)
    bound = dual_bound(grid, face, reduced_costs(grid, cost * 10**6, duals), duals)
    assert bound / 10**6 == pytest.approx(answer.value, abs=1e-3)


def test_the_value_is_recomputed_from_the_answer_and_not_taken_from_the_solver():
    grid, cost = a_problem(3)
    answer = solve_whole(grid, whole_face(grid), Aim("test", cost, never_stop), 100)
    assert answer.value == float(cost @ np.rint(answer.x))


def test_a_watcher_stops_the_solver():
    grid, cost = a_problem(3, columns=40, rows=40)
    with pytest.raises(Stopped):
        solve_whole(grid, whole_face(grid), Aim("test", cost, lambda *_: True), 10_000)


def a_watcher(stops_at):
    """Give a watcher that says stop at a given call, and its record of what it was told."""
    told = []

    def watch(stage, value, bound):
        told.append((stage, value, bound))
        return len(told) == stops_at

    return watch, told


def test_a_watcher_stops_a_large_linear_programme_on_the_way(monkeypatch):
    monkeypatch.setattr(solve, "ASKED_FROM", 0)
    monkeypatch.setattr(solve, "EVERY", 3)
    grid, cost = a_problem(3, columns=60, rows=60)
    watch, told = a_watcher(stops_at=2)

    with pytest.raises(Stopped):
        solve_linear(grid, whole_face(grid), Aim("test", cost, watch))

    assert told == [("test", None, None)] * 2


def test_a_watcher_is_asked_once_before_a_small_linear_programme_and_not_on_the_way():
    grid, cost = a_problem(3, columns=60, rows=60)
    watch, told = a_watcher(stops_at=2)

    assert solve_linear(grid, whole_face(grid), Aim("test", cost, watch)).optimal
    assert told == [("test", None, None)]


def test_a_watcher_stops_a_search_on_the_way_and_is_told_its_bound():
    grid, cost = a_problem(3, columns=80, rows=20)
    grid = replace(grid, limits=grid.limits * 8)
    watch, told = a_watcher(stops_at=40)

    with pytest.raises(Stopped):
        solve_whole(grid, whole_face(grid), Aim("test", cost, watch), 10_000)

    assert len(told) == 40
    stage, value, bound = told[-1]
    assert stage == "test"
    assert 0 < value <= bound


def test_nothing_to_decide_is_no_error():
    grid = make_grid([], [], [])
    assert (
        maximise(grid, whole_face(grid), Aim("test", np.zeros(0, dtype=np.int64), never_stop)).value
        == 0
    )


def test_the_solver_says_its_version():
    assert solver_version().startswith("HiGHS 1.")
