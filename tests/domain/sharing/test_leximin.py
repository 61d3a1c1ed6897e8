"""Rule 3 against leximin solved rung by rung, each rung an exact programme of its own."""

import os
from dataclasses import replace

import numpy as np
import pytest

from exchange.domain.optimise.branch import Aim, maximise
from exchange.domain.optimise.grid import cost_array, make_grid
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing import stages
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from tests.builders.circles import middling_circle
from tests.builders.sized import benchmark_circle

SCALE = float(os.environ.get("EXCHANGE_TEST_SCALE", "1"))


def up_to_rule(case, last):
    pairs = pair_up(case)
    path = stages.start(case, pairs, measure(case, pairs), never_stop)
    stages.first_rule(path)
    for rule in range(2, last + 1):
        stages.next_rule(path, rule)
    return path


def rungs_of(path):
    """Give, by step number of the ladder, the columns that climb it."""
    rungs = {}
    gains = {path.measure.step(number): number for number in range(path.measure.steps)}
    for column, gain in path.layout.model.aims[3].items():
        rungs.setdefault(gains[gain], []).append(column)
    return rungs


def climbed(path, x):
    """Count, rung by rung, how many households reach it."""
    return [int(sum(x[column] for column in rung)) for _, rung in sorted(rungs_of(path).items())]


def rung_by_rung(path):
    """Maximise how many reach the lowest rung, hold it, then the next."""
    region = path.regions[0]
    rows, limits = path.layout.model.listed(), list(path.layout.model.limits)
    rows += [entries for entries, _ in region.more]
    limits += [limit for _, limit in region.more]
    grid, face, reached = region.grid, region.face, []
    for _, rung in sorted(rungs_of(path).items()):
        aim = dict.fromkeys(rung, 1)
        best = maximise(grid, face, Aim("rung", cost_array(grid, aim), never_stop))
        assert best.proven
        reached.append(best.value)
        rows.append([(column, -1) for column in rung])
        limits.append(-best.value)
        grid = make_grid(rows, limits, path.layout.model.upper)
        face = replace(face, equal=np.append(face.equal, np.zeros(1, dtype=bool)))
    return reached


def compared(case):
    path = up_to_rule(case, 2)
    if len(path.regions) != 1:
        return None
    by_rung = rung_by_rung(path)
    stages.next_rule(path, 3)
    return climbed(path, path.x), by_rung


@pytest.mark.parametrize("members", [12, 60])
@pytest.mark.parametrize("number", range(int(4 * SCALE)))
def test_the_ladder_gives_the_same_rungs_as_leximin(members, number):
    result = compared(middling_circle(number, members))
    if result is not None:
        assert result[0] == result[1]


def test_the_ladder_gives_the_same_rungs_as_leximin_at_300_members():
    ours, by_rung = compared(benchmark_circle(300))
    assert ours == by_rung
    assert sum(ours) > 300
