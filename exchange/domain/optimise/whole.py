"""The best whole-number answer on a face: the programme is made smaller first, and a large one is left within a gap."""

from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.branch import Aim
from exchange.domain.optimise.grid import Face, IntegerProgram, programme
from exchange.domain.optimise.programme import Ints, Solution, SolverFailed
from exchange.domain.optimise.shrink import Shrunk, lowered, shrink
from exchange.domain.optimise.solve import GAP_OF_WHOLE_NUMBERS, solve_linear, solve_whole
from exchange.domain.optimise.watching import SearchLimit

LARGE = 12_000
"""Above this many columns once made small, the search stops within a gap, and does not branch."""

LARGE_GAP = 0.008
"""The gap at which it stops, as a part of what the linear programme comes to."""

MIDDLING = 3_000
"""Above this many columns once made small, only a few branches are searched."""

MIDDLING_NODES = 10
"""The branches of a middling programme: the good answers are found before them, and each takes long."""

LARGE_NODES = 1
"""Branches of a large programme: the cuts and trials before the first branch are worth more than those after it."""

MOST_ASKED = 60_000
"""How many calls of the solver a large programme is given before the search for a better bound ends [calls]."""

NEAR = 1e-3
"""Columns whose reduced cost is nearer to zero than this are tried first."""

AFTER = 200
"""In a large search one unit of the aim counts as much as this many of the largest numbers of what comes after it."""

ROUNDING = 1e-5
"""How far the solver's bound may be off by rounding; values are whole numbers."""


@dataclass(frozen=True, slots=True)
class WiderProgramme:
    """A programme with all answers of this one and of others besides, to look for the bound in.

    Attributes
    ----------
    apart : what an answer counts here beyond what it counts there
    """

    grid: IntegerProgram
    face: Face
    cost: Ints
    apart: int = 0


@dataclass(frozen=True, slots=True)
class SearchHints:
    """What helps a large search.

    Attributes
    ----------
    known : an answer to keep when none as good is found; a large search then looks for the bound alone
    after : what is to be maximised after the aim, so that of many good answers one is taken that is good there too
    """

    known: Ints | None = None
    after: Ints | None = None
    wider: WiderProgramme | None = None

    def joined(self, cost: Ints) -> Ints:
        """Join the aim and what comes after it, the aim far above."""
        if self.after is None:
            return cost
        return np.asarray(cost * (AFTER * int(np.abs(self.after).max(initial=1))) + self.after)


NO_SIDES = SearchHints()


@dataclass(frozen=True, slots=True)
class WholeAnswer:
    """A whole-number answer.

    Attributes
    ----------
    x : the columns; None when none was found, though there may be one
    bound : no answer's value is above it, as the solver says; a whole number
    """

    x: Ints | None
    value: int
    bound: int


def best_whole(
    grid: IntegerProgram, face: Face, aim: Aim, sides: SearchHints = NO_SIDES
) -> WholeAnswer:
    """Maximise in whole numbers.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when there is no answer
    """
    small = shrink(grid, face, aim.cost)
    if small.grid.columns > LARGE or sides.wider is not None:
        x, bound = _in_large(grid, face, aim, sides)
    else:
        x, bound = _in_small(small, aim)
    if x is not None:
        x = lowered(grid, face, aim.cost, x)
    known = sides.known
    if known is not None and (x is None or aim.cost @ known > aim.cost @ x):
        x = known
    value = bound if x is None else int(aim.cost @ x)
    return WholeAnswer(x, value, max(value, bound))


def _in_small(small: Shrunk, aim: Aim) -> tuple[Ints | None, int]:
    """Search to the end, or to the last of the branches allowed; give the answer and the bound."""
    whole = programme(small.grid, small.face, small.cost)
    few = small.grid.columns > MIDDLING and aim.node_limit > MIDDLING_NODES
    for nodes in (MIDDLING_NODES, aim.node_limit) if few else (aim.node_limit,):
        try:
            answer = solve_whole(whole, aim.stage, aim.watch, nodes)
        except SolverFailed:
            continue
        return small.large(_whole_numbers(answer)), _rounded(answer.bound) + small.base
    # Without an answer at all this fails too; with one, too few branches were allowed.
    bound = solve_linear(whole, aim.stage, aim.watch).value
    return None, _rounded(bound) + small.base


def _in_large(
    grid: IntegerProgram, face: Face, aim: Aim, sides: SearchHints
) -> tuple[Ints | None, int]:
    """Look for a good answer, unless one is known, then for a bound until it is near enough."""
    x = sides.known
    if x is None:
        x = _among_used(grid, face, replace(aim, cost=sides.joined(aim.cost)))
    wider = sides.wider or WiderProgramme(grid, face, aim.cost)
    small = shrink(wider.grid, wider.face, wider.cost)
    whole = programme(small.grid, small.face, small.cost)
    linear = solve_linear(whole, aim.stage, aim.watch).value
    apart = small.base + wider.apart
    value = None if x is None else int(aim.cost @ x) - apart
    gap = max(GAP_OF_WHOLE_NUMBERS, LARGE_GAP * abs(linear + small.base))
    enough = SearchLimit(aim.watch, value, gap, MOST_ASKED)
    found = enough.whole(whole, aim.stage, min(aim.node_limit, LARGE_NODES))
    bound = linear if enough.bound is None else min(linear, enough.bound)
    better = found is not None and (value is None or small.cost @ _whole_numbers(found) > value)
    if found is not None and better and sides.wider is None:
        x = small.large(_whole_numbers(found))
    return x, _rounded(bound) + apart


def _among_used(grid: IntegerProgram, face: Face, aim: Aim) -> Ints | None:
    """Give the best answer found with only the columns that a linear programme uses or could use as well."""
    small = shrink(grid, face, aim.cost)
    whole = programme(small.grid, small.face, small.cost)
    linear = solve_linear(whole, aim.stage, aim.watch)
    charge = np.zeros(small.grid.columns)
    np.add.at(charge, small.grid.index, small.grid.value * linear.duals[small.grid.row_of])
    near = NEAR * np.abs(small.cost).max()
    used = (linear.x > NEAR) | (small.cost - charge > -near)
    held = replace(small.face, upper=np.where(used, small.face.upper, small.face.lower))
    gap = LARGE_GAP / 2 * abs(linear.value + small.base)
    try:
        inner = shrink(small.grid, held, small.cost)
        whole = programme(inner.grid, inner.face, inner.cost)
        nodes = min(aim.node_limit, LARGE_NODES)
        answer = solve_whole(whole, aim.stage, aim.watch, nodes, gap=gap)
    except SolverFailed:
        return None
    return small.large(inner.large(_whole_numbers(answer)))


def _whole_numbers(answer: Solution) -> Ints:
    """Read the columns of an answer."""
    return np.rint(answer.x).astype(np.int64)


def _rounded(bound: float) -> int:
    """Round a bound of whole numbers down."""
    return int(np.floor(bound + ROUNDING))
