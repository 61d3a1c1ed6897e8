"""The best whole-number answer on a face: searched whole, or where too much is left by presolve, part by part."""

from dataclasses import dataclass

import numpy as np

from exchange.domain.optimise.branch import Leaf
from exchange.domain.optimise.grid import Face, IntegerProgram, lowered
from exchange.domain.optimise.parts import SearchHints, best_in_parts, bound_by_duals
from exchange.domain.optimise.programme import Aim, Ints, SolverFailed
from exchange.domain.optimise.solve import presolved, solve_linear, solve_whole

LARGE = 3500
"""Above this many columns left by presolve, the search goes part by part, and is left within a gap [columns]."""

MIDDLING = 2000
"""Above this many columns left by presolve, only a few branches are searched [columns]."""

MIDDLING_NODES = 10
"""The branches of a middling programme: the good answers are found before them, and each takes long."""

MOST_ASKED = 4000
"""How often a search may ask whether to go on; it is left with the best so far [calls]."""

ROUNDING = 1e-5
"""How far the solver's bound may be off by rounding; values are whole numbers."""


@dataclass(frozen=True, slots=True)
class WholeAnswer:
    """A whole-number answer.

    Attributes
    ----------
    bound : no answer's value is above it; a whole number
    leaf : duals that prove a bound, where they were made on the way; the solver's own may be better
    """

    x: Ints
    value: int
    bound: int
    leaf: Leaf | None = None


def best_whole(grid: IntegerProgram, face: Face, aim: Aim, hints: SearchHints) -> WholeAnswer:
    """Maximise in whole numbers.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when there is no answer
    """
    columns, told = presolved(grid, face, aim, LARGE)
    bound = int(np.floor(told + ROUNDING)) if np.isfinite(told) else None
    x, leaf = None, None
    if columns <= LARGE:
        x, bound = _searched(grid, face, aim, middling=columns > MIDDLING)
    if x is None and hints.known is not None:
        x, (leaf, _, _) = hints.known, bound_by_duals(grid, face, aim)
    elif x is None:
        x, leaf = best_in_parts(grid, face, aim, hints, bound)
    x = lowered(grid, face, aim.cost, x)
    if hints.known is not None and aim.cost @ hints.known > aim.cost @ x:
        x = hints.known
    value = int(aim.cost @ x)
    bounds = [one for one in (bound, leaf.bound if leaf else None) if one is not None]
    return WholeAnswer(x, value, max(value, min(bounds)), leaf)


def _searched(
    grid: IntegerProgram, face: Face, aim: Aim, *, middling: bool
) -> tuple[Ints | None, int | None]:
    """Search to the end, or to the last of the branches allowed; no answer when none was found by then."""
    nodes = min(aim.node_limit, MIDDLING_NODES) if middling else aim.node_limit
    try:
        answer = solve_whole(grid, face, aim, nodes, MOST_ASKED if middling else None)
    except SolverFailed:
        # Without any answer at all this fails too; with one, too little search was allowed.
        solve_linear(grid, face, aim)
        return None, None
    return np.rint(answer.x).astype(np.int64), int(np.floor(answer.bound + ROUNDING))
