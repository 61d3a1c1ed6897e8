"""The best whole-number answer on a face: the programme is made smaller first, and a large one is searched part by part."""

from dataclasses import dataclass

import numpy as np

from exchange.domain.optimise.branch import Aim, Leaf
from exchange.domain.optimise.grid import Face, IntegerProgram, programme
from exchange.domain.optimise.parts import ROUNDING, Ends, best_in_parts, bound_by_duals
from exchange.domain.optimise.programme import Ints, SolverFailed
from exchange.domain.optimise.shrink import Shrunk, lowered, shrink
from exchange.domain.optimise.solve import solve_linear, solve_whole

LARGE = 4500
"""Above this many columns once made small, the search goes part by part, and is left within a gap [columns]."""

MIDDLING = 2500
"""Above this many columns once made small, only a few branches are searched [columns]."""

MIDDLING_NODES = 10
"""The branches of a middling programme: the good answers are found before them, and each takes long."""

MOST_ASKED = 4000
"""How often a search may ask whether to go on; it is left with the best so far [calls]."""

AFTER = 200
"""In a large search one unit of the aim counts as much as this many of the largest numbers of what comes after it."""


@dataclass(frozen=True, slots=True)
class SearchHints:
    """What helps a search.

    Attributes
    ----------
    ends : what a large search takes apart by
    known : an answer to keep when none as good is found; a large search then looks for the bound alone
    after : what is to be maximised after the aim, so that of many good answers a large search takes one that is good there too
    """

    ends: Ends
    known: Ints | None = None
    after: Ints | None = None

    def joined(self, cost: Ints) -> Ints:
        """Join the aim and what comes after it, the aim far above."""
        if self.after is None:
            return cost
        return np.asarray(cost * (AFTER * int(np.abs(self.after).max(initial=1))) + self.after)


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
    small, leaf = shrink(grid, face, aim.cost), None
    x, bound = _in_small(small, aim) if small.grid.columns <= LARGE else (None, 0)
    if x is None:
        x, leaf, bound = _in_large(grid, face, aim, hints)
    x = lowered(grid, face, aim.cost, x)
    if hints.known is not None and aim.cost @ hints.known > aim.cost @ x:
        x = hints.known
    value = int(aim.cost @ x)
    return WholeAnswer(x, value, max(value, bound), leaf)


def _in_large(
    grid: IntegerProgram, face: Face, aim: Aim, hints: SearchHints
) -> tuple[Ints, Leaf, int]:
    """Search part by part, unless an answer is known."""
    if hints.known is not None:
        leaf, _, _ = bound_by_duals(grid, face, aim)
        return hints.known, leaf, leaf.bound
    return best_in_parts(grid, face, aim, hints.joined(aim.cost), hints.ends)


def _in_small(small: Shrunk, aim: Aim) -> tuple[Ints | None, int]:
    """Search to the end, or to the last of the branches allowed; no answer when none was found by then."""
    whole = programme(small.grid, small.face, small.cost)
    middling = small.grid.columns > MIDDLING
    nodes = min(aim.node_limit, MIDDLING_NODES) if middling else aim.node_limit
    try:
        answer = solve_whole(whole, aim.stage, aim.watch, nodes, MOST_ASKED if middling else None)
    except SolverFailed:
        # Without any answer at all this fails too; with one, too little search was allowed.
        solve_linear(whole, aim.stage, aim.watch)
        return None, 0
    x = small.large(np.rint(answer.x).astype(np.int64))
    return x, int(np.floor(answer.bound + ROUNDING)) + small.base
