"""Rule 3 against leximin solved rung by rung, each rung an exact programme of its own."""

import os
from dataclasses import replace

import numpy as np
import pytest

from exchange.domain.optimise.branch import maximise
from exchange.domain.optimise.grid import cost_array, make_grid
from exchange.domain.optimise.programme import Aim, never_stop
from exchange.domain.sharing import stages
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.reason import Rule
from tests.builders.circles import middling_circle
from tests.builders.sized import benchmark_circle

SCALE = float(os.environ.get("EXCHANGE_TEST_SCALE", "1"))


def up_to_rule(case, last):
    pairs = pair_up(case)
    path = stages.start(case, pairs, measure(case, pairs), never_stop)
    for rule in stages.STAGES[:last]:
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
    rows, limits = path.layout.model.listed(), list(path.layout.model.limits)
    rows += [entries for entries, _ in path.more]
    limits += [limit for _, limit in path.more]
    grid, face, reached = path.grid, path.face, []
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
    by_rung = rung_by_rung(path)
    stages.next_rule(path, Rule.FAIR)
    return climbed(path, path.x), by_rung


@pytest.mark.parametrize("members", [12, 60])
@pytest.mark.parametrize("number", range(int(4 * SCALE)))
def test_the_ladder_gives_the_same_rungs_as_leximin(members, number):
    ours, by_rung = compared(middling_circle(number, members))
    assert ours == by_rung


def test_the_ladder_gives_the_same_rungs_as_leximin_at_300_members():
    ours, by_rung = compared(benchmark_circle(300))
    assert ours == by_rung
    assert sum(ours) > 300
