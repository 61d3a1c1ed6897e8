"""The best whole-number answer on a face: the programme is made small first, and a large one is left within a gap."""

from dataclasses import dataclass

import numpy as np

from exchange.domain.optimise.branch import Aim
from exchange.domain.optimise.grid import Face, Grid, programme
from exchange.domain.optimise.programme import Ints, Programme, SolverFailed
from exchange.domain.optimise.shrink import lowered, shrink
from exchange.domain.optimise.solve import GAP_OF_WHOLE_NUMBERS, solve_linear, solve_whole

LARGE = 30_000
"""Beyond so many columns once made small, the solver stops within a gap, and does not branch."""

LARGE_GAP = 0.005
"""The gap at which it stops, as a part of what the linear programme comes to."""

LARGE_NODES = 1
"""Branches of a large programme: the cuts and trials before the first branch are worth more than those after it."""

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
    whole = programme(small.grid, small.face, small.cost)
    gap, nodes = GAP_OF_WHOLE_NUMBERS, aim.node_limit
    if small.grid.columns > LARGE:
        linear = solve_linear(whole, aim.stage, aim.watch).value + small.base
        gap, nodes = max(gap, LARGE_GAP * abs(linear)), min(nodes, LARGE_NODES)
    try:
        answer = solve_whole(whole, aim.stage, aim.watch, nodes, gap=gap)
    except SolverFailed:
        return _none_found(whole, aim, known, small.base)
    x = lowered(grid, face, aim.cost, small.large(np.rint(answer.x).astype(np.int64)))
    if known is not None and aim.cost @ known > aim.cost @ x:
        x = known
    value = int(aim.cost @ x)
    return Whole(x, value, max(value, _rounded(answer.bound) + small.base))


def _none_found(whole: Programme, aim: Aim, known: Ints | None, base: int) -> Whole:
    """Give what is known where the solver gave up: a linear programme's bound, unless it shows there is no answer."""
    bound = _rounded(solve_linear(whole, aim.stage, aim.watch).value) + base
    return Whole(known, bound if known is None else int(aim.cost @ known), bound)


def _rounded(bound: float) -> int:
    """Round a bound of whole numbers down."""
    return int(np.floor(bound + ROUNDING))
