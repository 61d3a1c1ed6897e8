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
    dual_bound,
    is_whole,
    narrowed,
    reduced_costs,
    whole_duals,
)
from exchange.domain.optimise.programme import Aim, Floats, Ints, SolverFailed
from exchange.domain.optimise.solve import dual_ray, solve_linear, solve_whole

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
    x : the columns
    """

    x: Ints
    value: int
    bound: int
    leaves: tuple[Leaf, ...]

    @property
    def proven(self) -> bool:
        """Say whether the duals prove the value."""
        return self.bound == self.value


def maximise(grid: IntegerProgram, face: Face, aim: Aim) -> Maximum:
    """Maximise the aim on the face.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when there is no answer, or the solver gives none
    """
    answer = solve_linear(grid, face, aim)
    if is_whole(answer.x):
        x = np.rint(answer.x).astype(np.int64)
        value = int(aim.cost @ x)
        leaf = prove(grid, face, aim.cost, answer.duals, value)
        if leaf.bound == value:
            return Maximum(x, value, value, (leaf,))
    first = solve_whole(grid, face, aim, aim.node_limit)
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
    open_paths: list[tuple[Step, ...]] = [()]
    leaves: list[Leaf] = []
    while open_paths:
        path = open_paths.pop()
        here = walk(face, path)
        try:
            answer = solve_linear(grid, here, aim)
        except SolverFailed:
            leaves.append(empty_leaf(grid, here, path, aim))
            continue
        whole = np.rint(answer.x).astype(np.int64)
        if is_whole(answer.x) and int(aim.cost @ whole) > value:
            best, value = whole, int(aim.cost @ whole)
        leaf = replace(prove(grid, here, aim.cost, answer.duals, value), path=path)
        full = len(leaves) + len(open_paths) + 1 >= most
        if leaf.bound <= value or is_whole(answer.x) or full:
            leaves.append(leaf)
        else:
            open_paths += split(answer.x, path)
    bound = max(value, *(leaf.bound for leaf in leaves))
    return Maximum(best, value, bound, tuple(leaves))


def empty_leaf(grid: IntegerProgram, face: Face, path: tuple[Step, ...], aim: Aim) -> Leaf:
    """Give the leaf of a branch without solutions: duals that show there are none, or, where rounding hides it, none at all.

    Duals for an aim of nothing whose bound is below zero can be scaled up until they prove any bound one likes.
    """
    ray = dual_ray(grid, face, aim)
    zero = np.zeros(grid.columns, dtype=np.int64)
    # The coarsest rounding that still proves the branch empty keeps the numbers short.
    for scale in SCALES:
        whole = whole_duals(face, ray, scale)
        shortfall = -dual_bound(grid, face, reduced_costs(grid, zero, whole), whole)
        if shortfall > 0:
            # Enough times the proof to push the bound below any value the aim can take.
            most = 2 * int((np.abs(aim.cost) * grid.upper).sum()) + 1
            whole = whole * (most // shortfall + 1)
            break
    else:
        whole = np.zeros(len(grid.limits), dtype=np.int64)
    reduced = reduced_costs(grid, aim.cost, whole)
    return Leaf(path, 1, whole, dual_bound(grid, face, reduced, whole))


def split(x: Floats, path: tuple[Step, ...]) -> list[tuple[Step, ...]]:
    """Branch on the column furthest from a whole number; the first of several."""
    away = np.abs(x - np.rint(x))
    away[away < SLIGHT] = 0
    column = int(np.argmax(away))
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
