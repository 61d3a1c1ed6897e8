"""What lies on a face, and how far costly columns fall: compared with a list of all answers."""

import itertools
import random

import numpy as np
import pytest

from exchange.domain.optimise import grid as grids
from exchange.domain.optimise.grid import Face, lowered, make_grid

PROGRAMMES = 400


def a_programme(number):
    """A random one: counts and the links that let them be, a few of them asked for by one row alone."""
    chance = random.Random(number)
    columns = chance.randint(3, 6)
    upper = [chance.choice((1, 1, 1, 2, 3)) for _ in range(columns)]
    rows = []
    for _ in range(chance.randint(2, 5)):
        held = chance.sample(range(columns), k=chance.randint(1, columns))
        entries = [(one, chance.choice((1, 1, 1, 2, -1, -1, -3))) for one in held]
        rows.append((entries, chance.choice((0, 0, 1, 2, 3)), chance.random() < 0.2))
    one, two = chance.sample(range(columns), k=2)
    rows.append(([(one, 1), (two, -1)], chance.choice((0, 0, 0, 1)), False))
    grid = make_grid([entries for entries, _, _ in rows], [limit for _, limit, _ in rows], upper)
    face = Face(
        np.array([chance.random() < 0.1 and 1 for _ in range(columns)], dtype=np.int64),
        grid.upper.copy(),
        np.array([full for _, _, full in rows]),
    )
    cost = np.array([chance.choice((-2, -1, -1, 0, 1, 2)) for _ in range(columns)])
    return grid, face, cost


def holds(grid, face, x):
    sums = np.bincount(grid.row_of, grid.value * x[grid.index], minlength=len(grid.limits))
    within = np.all(x >= face.lower) and np.all(x <= face.upper)
    return within and np.all(sums <= grid.limits) and np.all((sums == grid.limits) | ~face.equal)


def answers(grid, face):
    """List every answer."""
    ends = zip(face.lower.tolist(), face.upper.tolist(), strict=True)
    every = itertools.product(*(range(low, high + 1) for low, high in ends))
    return [x for x in map(np.array, every) if holds(grid, face, x)]


@pytest.fixture(scope="module")
def programmes():
    return [a_programme(number) for number in range(PROGRAMMES)]


def test_columns_that_cost_fall_as_far_as_they_may_and_no_further(programmes):
    fell = 0
    for grid, face, cost in programmes:
        for x in answers(grid, face)[-3:]:
            low = lowered(grid, face, cost, x)
            assert holds(grid, face, low)
            assert np.all(low[cost >= 0] == x[cost >= 0])
            assert np.all(low <= x)
            fell += bool(np.any(low < x))

    assert fell > PROGRAMMES // 10


def test_what_lies_on_a_face_keeps_its_limits_and_fills_its_full_rows(programmes):
    inside = 0
    for grid, face, _ in programmes:
        for x in itertools.islice(itertools.product(range(3), repeat=grid.columns), 40):
            answer = holds(grid, face, np.array(x))
            assert grids.holds(grid, face, np.array(x)) == answer
            inside += bool(answer)
    assert inside > PROGRAMMES // 10
