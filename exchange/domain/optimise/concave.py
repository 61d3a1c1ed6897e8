"""Maximise a sum of concave curves, each of a weighted count of steps, and keep the proof.

Curves are bounded from above by straight lines. With one slope for each curve the aim is linear, and the bound is the gap
between lines and curves plus the bound of the linear programme. Slopes come from the solver; proofs do not.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.below_lines import Maximisation, Relaxed, near, relax, whole
from exchange.domain.optimise.branch import Aim as LinearAim
from exchange.domain.optimise.branch import infeasible_leaf, split, walk
from exchange.domain.optimise.curves import LEVELLED, NOISE, SLOPE_PARTS, Tangents
from exchange.domain.optimise.grid import (
    Face,
    Step,
    Subprogram,
    cut_out,
    dual_bound,
    is_whole,
    narrowed,
    programme,
    reduced_costs,
    whole_duals,
)
from exchange.domain.optimise.programme import Floats, Ints, SolverFailed
from exchange.domain.optimise.solve import solve_linear

FEWEST_LEAVES = 1
COLUMNS_IN_ALL = 800_000
"""How many leaves are grown: this many columns in all leaves together, and never fewer than the fewest."""


@dataclass(frozen=True, slots=True)
class CurveLeaf:
    """A leaf of the tree: its branches, a slope for each curve, and duals of the rows, both in parts of 1/SLOPE_PARTS."""

    path: tuple[Step, ...]
    slopes: tuple[int, ...]
    duals: Ints
    bound: int


@dataclass(frozen=True, slots=True)
class CurveFace:
    """Where solutions of the best value can lie.

    Attributes
    ----------
    touching : of each curve, least and largest count at which its line touches it
    """

    face: Face
    touching: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class CurveMaximum:
    """The best that was found, with its proof, and where all that are as good lie."""

    x: Ints
    value: int
    bound: int
    leaves: tuple[CurveLeaf, ...]
    faces: tuple[CurveFace, ...]


@dataclass(frozen=True, slots=True)
class SlopeProof:
    """What slopes prove at a leaf: reduced costs, and the bound in parts of 1/SLOPE_PARTS."""

    leaf: CurveLeaf
    x: Floats
    reduced: Ints
    total: int

    def gap(self, value: int) -> int:
        """Give how far a value lies below the bound, with an allowance for rounding."""
        return max(0, self.total - (value - NOISE) * SLOPE_PARTS)

    def tight(self, face: Face, value: int) -> Face:
        """Give where solutions of this value lie."""
        return narrowed(face, self.reduced, self.leaf.duals, self.gap(value))

    def touching(self, task: Maximisation, value: int) -> tuple[tuple[int, int], ...]:
        """Give between which counts each curve lies in solutions of this value."""
        return tuple(
            curve.touching(slope, self.gap(value))
            for curve, slope in zip(task.curves, self.leaf.slopes, strict=True)
        )


def maximise_curves(task: Maximisation, face: Face) -> CurveMaximum:
    """Maximise the sum of the curves on the face.

    The search goes on in the rows and columns that can help.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver gives no answer
    """
    gains = np.zeros(task.grid.columns, dtype=bool)
    for curve in task.curves:
        gains[curve.columns] = True
    cut = cut_out(task.grid, face, gains)
    small = replace(
        task,
        grid=cut.grid,
        curves=tuple(replace(one, columns=cut.number[one.columns]) for one in task.curves),
    )
    best, leaves = _search(small, cut.face)
    x = cut.whole_x(best)
    value = task.value(x)
    whole = [_expanded(task, face, cut, one) for one in leaves]
    bound = max(value, *(one.leaf.bound for one in whole))
    faces = tuple(
        CurveFace(one.tight(walk(face, one.leaf.path), value), one.touching(task, value))
        for one in whole
        if one.leaf.bound >= value - NOISE
    )
    return CurveMaximum(x, value, bound, tuple(one.leaf for one in whole), faces)


def _expanded(task: Maximisation, face: Face, cut: Subprogram, one: SlopeProof) -> SlopeProof:
    """Give a leaf in the numbers of the whole grid."""
    duals, path = cut.whole_duals(one.leaf.duals), cut.whole_path(one.leaf.path)
    cost = _cost(task, one.leaf.slopes)
    reduced = reduced_costs(task.grid, cost, duals)
    here = walk(face, path)
    total = _above(task, one.leaf.slopes) + dual_bound(task.grid, here, reduced, duals)
    leaf = CurveLeaf(path, one.leaf.slopes, duals, total // SLOPE_PARTS)
    return SlopeProof(leaf, one.x, reduced, total)


def _search(task: Maximisation, face: Face) -> tuple[Ints, list[SlopeProof]]:
    """Search the tree of branches; give the best columns and the leaves."""
    tangents = Tangents(task.curves)
    best: Ints | None = None
    value = -1
    limit = min(task.node_limit, max(FEWEST_LEAVES, COLUMNS_IN_ALL // max(1, task.grid.columns)))
    open_paths: list[tuple[tuple[Step, ...], Relaxed | None]] = [((), None)]
    leaves: list[SlopeProof] = []
    while open_paths:
        path, before = open_paths.pop()
        here = walk(face, path)
        try:
            relaxed = relax(task, here, tangents)
        except SolverFailed:
            leaves.append(_empty(task, here, path, before))
            continue
        bounded, x = _bounded(task, here, relaxed, path), relaxed.x
        for find in (_rounded, near, whole):
            reached = best is not None and bounded.leaf.bound <= value + NOISE
            if reached or (find is not _rounded and path):
                break
            found = find(task, here, x, tangents)
            if found is not None and task.value(found) > value:
                best, value = found, task.value(found)
        full = len(leaves) + len(open_paths) + 1 >= limit
        if bounded.leaf.bound <= value + NOISE or full:
            leaves.append(bounded)
        else:
            open_paths += [(one, relaxed) for one in _next(task, here, relaxed, path)]
    if best is None:
        raise SolverFailed(f"{task.stage}: there is no answer")
    return best, leaves


def _rounded(_task: Maximisation, _face: Face, x: Floats, _chords: Tangents) -> Ints | None:
    """Take the answer as it is, if it is whole."""
    return np.rint(x).astype(np.int64) if is_whole(x) else None


def _cost(task: Maximisation, slopes: Sequence[int]) -> Ints:
    """Give the linear aim with one slope for each curve."""
    cost = np.zeros(task.grid.columns, dtype=np.int64)
    for curve, slope in zip(task.curves, slopes, strict=True):
        np.add.at(cost, curve.columns, slope * curve.weights)
    return cost


def _above(task: Maximisation, slopes: Sequence[int]) -> int:
    """Give by how much the curves exceed their lines at most."""
    return sum(curve.above(slope) for curve, slope in zip(task.curves, slopes, strict=True))


def _bounded(
    task: Maximisation, face: Face, relaxed: Relaxed, path: tuple[Step, ...]
) -> SlopeProof:
    """Prove what the slopes prove on the face at the end of a path.

    The duals of the programme with lines usually suffice; rounding the slopes can spoil them, and
    then others are tried.
    """
    found = _with_duals(task, face, relaxed, path)
    if found.total > (relaxed.value + NOISE / 2) * SLOPE_PARTS:
        cost = _cost(task, relaxed.slopes) / (SLOPE_PARTS * LEVELLED)
        answer = solve_linear(programme(task.grid, face, cost), task.stage, task.watch)
        again = _with_duals(task, face, replace(relaxed, duals=answer.duals), path)
        found = min(found, again, key=lambda one: one.total)
    return found


def _with_duals(
    task: Maximisation, face: Face, relaxed: Relaxed, path: tuple[Step, ...]
) -> SlopeProof:
    """Prove what slopes and duals prove."""
    duals = whole_duals(face, relaxed.duals, SLOPE_PARTS * LEVELLED)
    reduced = reduced_costs(task.grid, _cost(task, relaxed.slopes), duals)
    total = _above(task, relaxed.slopes) + dual_bound(task.grid, face, reduced, duals)
    leaf = CurveLeaf(path, tuple(relaxed.slopes), duals, total // SLOPE_PARTS)
    return SlopeProof(leaf, relaxed.x, reduced, total)


def _next(
    task: Maximisation, face: Face, relaxed: Relaxed, path: tuple[Step, ...]
) -> list[tuple[Step, ...]]:
    """Branch on the fractional column with most value at stake, or else on any step that is still free.

    A step settles whether its plant is received, and so more than where it comes from; columns that are not steps have
    almost no weight.
    """
    if not is_whole(relaxed.x):
        return split(relaxed.x, path, np.maximum(_cost(task, relaxed.slopes), 1))
    for curve in task.curves:
        for column in curve.columns.tolist():
            if face.lower[column] < face.upper[column]:
                return [(*path, (column, "most", 0)), (*path, (column, "least", 1))]
    raise SolverFailed(f"{task.stage}: nothing is left to branch on, and still no proof")


def _empty(
    task: Maximisation, face: Face, path: tuple[Step, ...], before: Relaxed | None
) -> SlopeProof:
    """Give the leaf of a branch without solutions; if that cannot be shown, the duals before it still hold."""
    nothing = np.zeros(task.grid.columns, dtype=np.int64)
    flat = [0] * len(task.curves)
    above = _above(task, flat)
    try:
        empty = infeasible_leaf(task.grid, face, path, LinearAim(task.stage, nothing, task.watch))
    except SolverFailed:
        if before is None:
            raise
        return _with_duals(task, face, before, path)
    times = (2 * above) // max(1, -empty.bound) + 1
    duals = empty.duals * times
    reduced = reduced_costs(task.grid, nothing, duals)
    total = above + dual_bound(task.grid, face, reduced, duals)
    leaf = CurveLeaf(path, tuple(flat), duals, total // SLOPE_PARTS)
    return SlopeProof(leaf, np.full(task.grid.columns, 0.5), reduced, total)
