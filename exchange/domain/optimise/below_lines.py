"""Concave curves replaced by tangent lines above them: the best solution below the lines, and whole-number answers."""

from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.curves import LEVELLED, NOISE, Curve, Tangents
from exchange.domain.optimise.grid import SLIGHT, Face, IntegerProgram, programme
from exchange.domain.optimise.programme import Floats, Ints, Programme, SolverFailed, Watch
from exchange.domain.optimise.solve import solve_linear, solve_whole

MOST_ROUNDS = 60
WHOLE_ROUNDS = 4
WHOLE_GAP = 1e-7
"""How near to the best whole-number answers come, in values divided by LEVELLED."""


@dataclass(frozen=True, slots=True)
class Maximisation:
    """What to maximise on which grid."""

    grid: IntegerProgram
    curves: tuple[Curve, ...]
    stage: str
    watch: Watch
    node_limit: int = 500

    def value(self, x: Ints) -> int:
        """Give the value of whole-number columns."""
        return sum(curve.at(x) for curve in self.curves)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The best below the lines.

    Attributes
    ----------
    slopes : of each curve, in parts of 1/SLOPE_PARTS
    duals : of each row of the grid, in values divided by LEVELLED
    value : of the columns, up to the corners of the curves
    """

    x: Floats
    slopes: list[int]
    duals: Floats
    value: float


def relax(task: Maximisation, face: Face, tangents: Tangents) -> Relaxed:
    """Solve with as many lines as are needed."""
    rows, columns = len(task.grid.limits), task.grid.columns
    for _ in range(MOST_ROUNDS):
        wide = _with_lines(programme(task.grid, face, np.zeros(columns)), tangents)
        answer = solve_linear(wide, task.stage, task.watch)
        x = answer.x[:columns]
        counts = [curve.count(x) for curve in task.curves]
        value = tangents.value(counts)
        slopes = tangents.slopes(answer.duals[rows + len(task.curves) :])
        if answer.value * LEVELLED <= value + NOISE / 10:
            break
        new = [tangents.add(number, count) for number, count in enumerate(counts)]
        if not any(new):
            break
    return Relaxed(x, slopes, answer.duals[:rows], value)


def _with_lines(base: Programme, tangents: Tangents) -> Programme:
    """Add a column for each curve's count and one for its value, and a row for each line above it.

    Counts are given to the solver in thousands and values as shares of the curve's top, to keep numbers of ordinary size.
    """
    columns, curves = len(base.cost), tangents.curves
    index, value, lengths, limits = [base.index], [base.value], [], [base.limits]
    for number, curve in enumerate(curves):
        index.append(np.append(curve.columns, columns + number))
        value.append(np.append(-curve.weights / 1000, 1.0))
        lengths.append(len(curve.columns) + 1)
    for number, slope, _ in tangents.lines:
        index.append(np.array([columns + number, columns + len(curves) + number]))
        value.append(np.array([-1000 * slope, 1.0]))
        lengths.append(2)
    limits += [np.zeros(len(curves)), np.array([start for _, _, start in tangents.lines])]
    tops = np.array(tangents.tops) / LEVELLED
    counts = np.array([float(curve.weights.sum()) / 1000 for curve in curves])
    return Programme(
        cost=np.concatenate((base.cost, np.zeros(len(curves)), tops)),
        lower=np.concatenate((base.lower, np.zeros(2 * len(curves)))),
        upper=np.concatenate((base.upper, counts, np.ones(len(curves)))),
        starts=np.concatenate((base.starts, base.starts[-1] + np.cumsum(lengths))).astype(np.int64),
        index=np.concatenate(index).astype(np.int64),
        value=np.concatenate(value),
        limits=np.concatenate(limits),
        equal=np.concatenate((base.equal, np.zeros(len(lengths), dtype=bool))),
    )


def near(task: Maximisation, face: Face, x: Floats, tangents: Tangents) -> Ints | None:
    """Find a whole-number answer by moving only the columns that share a row with a fractional one."""
    fractional = np.abs(x - np.rint(x)) >= SLIGHT
    rows = np.zeros(len(task.grid.limits), dtype=bool)
    rows[task.grid.row_of[fractional[task.grid.index]]] = True
    free = fractional
    free[task.grid.index[rows[task.grid.row_of]]] = True
    rounded = np.rint(x).astype(np.int64)
    fixed = replace(
        face,
        lower=np.where(free, face.lower, rounded),
        upper=np.where(free, face.upper, rounded),
    )
    try:
        return whole(task, fixed, x, tangents)
    except SolverFailed:
        return None


def whole(task: Maximisation, face: Face, _x: Floats, tangents: Tangents) -> Ints:
    """Find a whole-number answer: the best below the lines, with a tangent added where it meets a curve."""
    integer = np.zeros(task.grid.columns + 2 * len(task.curves), dtype=bool)
    integer[: task.grid.columns] = True
    best = np.zeros(task.grid.columns, dtype=np.int64)
    for _ in range(WHOLE_ROUNDS):
        wide = _with_lines(programme(task.grid, face, np.zeros(task.grid.columns)), tangents)
        answer = solve_whole(wide, task.stage, task.watch, task.node_limit, integer, WHOLE_GAP)
        x = np.rint(answer.x[: task.grid.columns]).astype(np.int64)
        if task.value(x) >= task.value(best):
            best = x
        new = [tangents.add(number, curve.count(x)) for number, curve in enumerate(task.curves)]
        if not any(new):
            break
    return best
