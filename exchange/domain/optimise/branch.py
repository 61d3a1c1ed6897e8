"""Maximise a whole-number aim on a face, and keep the dual numbers that prove it.

Most of the time one linear programme is enough. When its answer is not whole, the columns are branched on, and every
leaf of the tree keeps duals of its own, so that the bound can still be checked by arithmetic.
"""

from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.grid import (
    SLIGHT,
    Face,
    IntegerProgram,
    Step,
    cut_out,
    dual_bound,
    is_whole,
    narrowed,
    programme,
    reduced_costs,
    whole_duals,
)
from exchange.domain.optimise.programme import Floats, Ints, Solution, SolverFailed, Watch
from exchange.domain.optimise.solve import solve_linear, solve_whole

SCALES = (1, 12, 5040, 10**6)
"""Parts into which duals are rounded; the first with a proof is kept."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf of the tree of branches.

    Attributes
    ----------
    path : the branches that lead to it
    scale, duals : row duals in whole parts of 1/scale; none when the leaf holds no solution
    bound : what the duals prove, rounded down
    """

    path: tuple[Step, ...]
    scale: int
    duals: Ints
    bound: int


@dataclass(frozen=True, slots=True)
class Maximum:
    """The best that was found, with its proof.

    Attributes
    ----------
    x : the columns; None when there is no solution at all
    """

    x: Ints | None
    value: int
    bound: int
    leaves: tuple[Leaf, ...]

    @property
    def proven(self) -> bool:
        """Say whether the duals prove the value."""
        return self.bound == self.value


@dataclass(frozen=True, slots=True)
class Aim:
    """What to maximise, and how to go about it.

    Attributes
    ----------
    plain : the linear programmes are simple; see `solve_linear`
    """

    stage: str
    cost: Ints
    watch: Watch
    node_limit: int = 2000
    plain: bool = False


def maximise(grid: IntegerProgram, face: Face, aim: Aim) -> Maximum:
    """Maximise the aim on the face, in the rows and columns that can help it.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver gives no answer
    """
    cut = cut_out(grid, face, aim.cost > 0)
    best = _maximise(cut.grid, cut.face, replace(aim, cost=aim.cost[cut.columns]))
    leaves = tuple(
        replace(leaf, path=cut.whole_path(leaf.path), duals=cut.whole_duals(leaf.duals))
        for leaf in best.leaves
    )
    x = None if best.x is None else cut.whole_x(best.x)
    return replace(best, x=x, leaves=leaves)


def _relaxed(grid: IntegerProgram, face: Face, aim: Aim) -> Solution:
    """Solve without asking for whole numbers."""
    whole = programme(grid, face, aim.cost)
    return solve_linear(whole, aim.stage, aim.watch, plain=aim.plain)


def _maximise(grid: IntegerProgram, face: Face, aim: Aim) -> Maximum:
    """Maximise the aim in all rows and columns."""
    try:
        answer = _relaxed(grid, face, aim)
    except SolverFailed:
        leaf = infeasible_leaf(grid, face, (), aim)
        return Maximum(None, leaf.bound, leaf.bound, (leaf,))
    if is_whole(answer.x):
        x = np.rint(answer.x).astype(np.int64)
        value = int(aim.cost @ x)
        leaf = prove(grid, face, aim.cost, answer.duals, value)
        if leaf.bound == value:
            return Maximum(x, value, value, (leaf,))
    first = solve_whole(programme(grid, face, aim.cost), aim.stage, aim.watch, aim.node_limit)
    return prove_by_branching(grid, face, aim, np.rint(first.x).astype(np.int64), aim.node_limit)


def proven_face(grid: IntegerProgram, face: Face, cost: Ints, best: Maximum) -> Face | None:
    """Give the face on which all the best answers lie, where a single leaf proves them the best; else None."""
    if len(best.leaves) > 1 or not best.proven:
        return None
    (leaf,) = best.leaves
    reduced = reduced_costs(grid, cost * leaf.scale, leaf.duals)
    gap = dual_bound(grid, face, reduced, leaf.duals) - best.value * leaf.scale
    return narrowed(face, reduced, leaf.duals, gap)


def prove(grid: IntegerProgram, face: Face, cost: Ints, duals: Floats, value: int) -> Leaf:
    """Round the duals so that they prove as much as they can."""
    found = []
    for scale in SCALES:
        whole = whole_duals(face, duals, scale)
        reduced = reduced_costs(grid, cost * scale, whole)
        leaf = Leaf((), scale, whole, dual_bound(grid, face, reduced, whole) // scale)
        found.append(leaf)
        if leaf.bound <= value:
            break
    return min(found, key=lambda one: one.bound)


def prove_by_branching(
    grid: IntegerProgram, face: Face, aim: Aim, best: Ints, most: int
) -> Maximum:
    """Prove a whole-number answer by a tree of at most this many leaves, or find a better one.

    A tree cut short still gives a bound: that of its worst leaf.
    """
    value = int(aim.cost @ best)
    open_paths: list[tuple[tuple[Step, ...], Leaf | None]] = [((), None)]
    leaves: list[Leaf] = []
    while open_paths:
        path, before = open_paths.pop()
        here = walk(face, path)
        try:
            answer = _relaxed(grid, here, aim)
        except SolverFailed:
            leaves.append(_empty_leaf(grid, here, path, aim, before))
            continue
        whole = np.rint(answer.x).astype(np.int64)
        if is_whole(answer.x) and int(aim.cost @ whole) > value:
            best, value = whole, int(aim.cost @ whole)
        leaf = replace(prove(grid, here, aim.cost, answer.duals, value), path=path)
        full = len(leaves) + len(open_paths) + 1 >= most
        if leaf.bound <= value or is_whole(answer.x) or full:
            leaves.append(leaf)
        else:
            open_paths += [(step, leaf) for step in split(answer.x, path)]
    bound = max(value, *(leaf.bound for leaf in leaves))
    return Maximum(best, value, bound, tuple(leaves))


def _empty_leaf(
    grid: IntegerProgram, face: Face, path: tuple[Step, ...], aim: Aim, before: Leaf | None
) -> Leaf:
    """Give the leaf of a branch the solver finds empty; if that cannot be shown, the duals before it still hold."""
    try:
        return infeasible_leaf(grid, face, path, aim)
    except SolverFailed:
        if before is None:
            raise
        reduced = reduced_costs(grid, aim.cost * before.scale, before.duals)
        bound = dual_bound(grid, face, reduced, before.duals) // before.scale
        return replace(before, path=path, bound=bound)


def infeasible_leaf(grid: IntegerProgram, face: Face, path: tuple[Step, ...], aim: Aim) -> Leaf:
    """Give the leaf of a branch without solutions: duals of the relaxed programme that show there are none.

    Every column may leave its limits at a cost; if the least cost is above zero, its duals, scaled up, give any bound
    one likes.
    """
    zero = np.zeros(grid.columns, dtype=np.int64)
    needs, duals = _slackened(grid, face, aim)
    # So little is within the solver's rounding, and proves nothing.
    if needs < 1e-6:
        raise SolverFailed(f"{aim.stage}: a branch is neither solvable nor empty")
    # The coarsest rounding that still proves the branch empty keeps the numbers short.
    for scale in (1, 12, 5040, 10**7):
        whole = whole_duals(face, duals, scale)
        shortfall = -dual_bound(grid, face, reduced_costs(grid, zero, whole), whole)
        if shortfall > 0:
            break
    else:
        raise SolverFailed(f"{aim.stage}: an empty branch could not be shown to be empty")
    # Enough times the proof to push the bound below any value the aim can take.
    most = 2 * int((np.abs(aim.cost) * grid.upper).sum()) + 1
    times = most // shortfall + 1
    whole = whole * times
    reduced = reduced_costs(grid, aim.cost, whole)
    return Leaf(path, 1, whole, dual_bound(grid, face, reduced, whole))


def _slackened(grid: IntegerProgram, face: Face, aim: Aim) -> tuple[float, Floats]:
    """Find by how much the rows must be relaxed on a face, and the duals that show it."""
    rows = len(grid.limits)
    lengths = np.diff(grid.starts)
    slack_up = grid.columns + np.arange(rows)
    slack_down = slack_up + rows
    starts = np.concatenate(([0], np.cumsum(lengths + 2))).astype(np.int64)
    index = np.insert(
        grid.index, np.repeat(grid.starts[1:], 2), np.stack([slack_up, slack_down], 1).ravel()
    )
    value = np.insert(
        grid.value.astype(np.float64), np.repeat(grid.starts[1:], 2), np.tile([-1.0, 1.0], rows)
    )
    base = programme(grid, face, np.zeros(grid.columns))
    wide = replace(
        base,
        cost=np.concatenate((np.zeros(grid.columns), -np.ones(2 * rows))),
        lower=np.concatenate((base.lower, np.zeros(2 * rows))),
        upper=np.concatenate((base.upper, np.full(2 * rows, 1e9))),
        starts=starts,
        index=index,
        value=value,
    )
    answer = solve_linear(wide, aim.stage, aim.watch)
    return -answer.value, answer.duals


def split(
    x: Floats, path: tuple[Step, ...], weights: Floats | Ints | None = None
) -> list[tuple[Step, ...]]:
    """Branch on the column furthest from a whole number, times its weight; the first of several."""
    away = np.abs(x - np.rint(x))
    away[away < SLIGHT] = 0
    column = int(np.argmax(away if weights is None else away * weights))
    below = int(np.floor(x[column]))
    return [(*path, (column, "most", below)), (*path, (column, "least", below + 1))]


def walk(face: Face, path: tuple[Step, ...]) -> Face:
    """Narrow a face by the branches taken."""
    lower, upper = face.lower.copy(), face.upper.copy()
    for column, side, number in path:
        if side == "most":
            upper[column] = min(upper[column], number)
        else:
            lower[column] = max(lower[column], number)
    return replace(face, lower=lower, upper=upper)
