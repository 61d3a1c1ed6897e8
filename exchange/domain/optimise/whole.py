"""The best whole-number answer on a face: the programme is made small first, and a large one is left within a gap."""

from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.branch import Aim
from exchange.domain.optimise.grid import Face, Grid, programme
from exchange.domain.optimise.programme import Answer, Ints, SolverFailed
from exchange.domain.optimise.shrink import Shrunk, lowered, shrink
from exchange.domain.optimise.solve import GAP_OF_WHOLE_NUMBERS, solve_linear, solve_whole
from exchange.domain.optimise.watching import Enough

LARGE = 12_000
"""Beyond so many columns once made small, the search stops within a gap, and does not branch."""

LARGE_GAP = 0.006
"""The gap at which it stops, as a part of what the linear programme comes to."""

LARGE_NODES = 1
"""Branches of a large programme: the cuts and trials before the first branch are worth more than those after it."""

MOST_ASKED = 60_000
"""How often the watcher of a large programme is asked before the search for a better bound ends."""

NEAR = 1e-3
"""Columns whose reduced cost is nearer to nothing than this are tried first."""

ROUNDING = 1e-5
"""How far the solver's bound may be off by rounding; values are whole numbers."""


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole-number answer.

    Attributes
    ----------
    x : the columns; None when none was found, though there may be one
    bound : no answer's value is above it, as the solver says; a whole number
    """

    x: Ints | None
    value: int
    bound: int


def best_whole(grid: Grid, face: Face, aim: Aim, known: Ints | None = None) -> Whole:
    """Maximise in whole numbers.

    Parameters
    ----------
    known : an answer to keep when the solver finds none as good

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when there is no answer
    """
    small = shrink(grid, face, aim.cost)
    search = _in_large if small.grid.columns > LARGE else _in_small
    x, bound = search(small, aim)
    if x is not None:
        x = lowered(grid, face, aim.cost, x)
    if known is not None and (x is None or aim.cost @ known > aim.cost @ x):
        x = known
    value = bound if x is None else int(aim.cost @ x)
    return Whole(x, value, max(value, bound))


def _in_small(small: Shrunk, aim: Aim) -> tuple[Ints | None, int]:
    """Search to the end, or to the last of the branches allowed; give the answer and the bound."""
    whole = programme(small.grid, small.face, small.cost)
    try:
        answer = solve_whole(whole, aim.stage, aim.watch, aim.node_limit)
    except SolverFailed:
        # Without an answer at all this fails too; with one, too few branches were allowed.
        bound = solve_linear(whole, aim.stage, aim.watch).value
        return None, _rounded(bound) + small.base
    return small.large(_whole_numbers(answer)), _rounded(answer.bound) + small.base


def _in_large(small: Shrunk, aim: Aim) -> tuple[Ints | None, int]:
    """Look for a good answer among the columns the linear programme uses, then for a bound until it is near enough."""
    whole = programme(small.grid, small.face, small.cost)
    linear = solve_linear(whole, aim.stage, aim.watch)
    gap = max(GAP_OF_WHOLE_NUMBERS, LARGE_GAP * abs(linear.value + small.base))
    nodes = min(aim.node_limit, LARGE_NODES)
    x = _among_used(small, aim, linear, gap)
    value = None if x is None else int(small.cost @ x)
    enough = Enough(aim.watch, value, gap, MOST_ASKED)
    found = enough.whole(whole, aim.stage, nodes)
    bound = linear.value if enough.bound is None else min(linear.value, enough.bound)
    if found is not None and (value is None or small.cost @ _whole_numbers(found) > value):
        x = _whole_numbers(found)
    return None if x is None else small.large(x), _rounded(bound) + small.base


def _among_used(small: Shrunk, aim: Aim, linear: Answer, gap: float) -> Ints | None:
    """Give the best answer found with only the columns that a linear programme uses or could use as well."""
    charge = np.zeros(small.grid.columns)
    np.add.at(charge, small.grid.index, small.grid.value * linear.duals[small.grid.row_of])
    used = (linear.x > NEAR) | (small.cost - charge > -NEAR)
    face = replace(small.face, upper=np.where(used, small.face.upper, small.face.lower))
    nodes = min(aim.node_limit, LARGE_NODES)
    try:
        inner = shrink(small.grid, face, small.cost)
        whole = programme(inner.grid, inner.face, inner.cost)
        answer = solve_whole(whole, aim.stage, aim.watch, nodes, gap=gap / 2)
    except SolverFailed:
        return None
    return inner.large(_whole_numbers(answer))


def _whole_numbers(answer: Answer) -> Ints:
    """Read the columns of an answer."""
    return np.rint(answer.x).astype(np.int64)


def _rounded(bound: float) -> int:
    """Round a bound of whole numbers down."""
    return int(np.floor(bound + ROUNDING))
