"""A good answer, and a bound, in a programme too large to be searched whole: plants between ends, in as few parcels as can be.

The bound comes from an interior point, whose duals arithmetic can check. A first answer comes from flows in which a plant
costs little where the interior point would send a parcel anyway. It is then improved in parts: all that comes to some
receivers, or goes out from some senders, is settled anew while the rest stands. How far the search goes is counted in
branches and calls, never by a clock, so that the same circle always ends the same way.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.optimise.branch import Leaf
from exchange.domain.optimise.grid import (
    Face,
    IntegerProgram,
    dual_bound,
    holds,
    is_whole,
    lowered,
    reduced_costs,
    row_sums,
    whole_duals,
)
from exchange.domain.optimise.programme import Aim, Floats, Ints, SolverFailed, Watch
from exchange.domain.optimise.solve import solve_interior, solve_linear, solve_whole

SCALE = 5040
"""Duals are rounded to parts of this [parts]."""

FLOWS = 3
"""How many first answers are tried [flows]."""

CHOICES = 6500
"""How large a part is: the columns it has, times how many of them there are for each in use [columns]."""

PASSES = 8
"""How often everything is settled anew, by receivers and by senders in turn [passes]."""

NODES, ASKS = 20, 40
"""Branches and calls that a part is given."""

TOO_DEAR = 0.1
"""A column whose reduced cost is above this is left as it is [parcels]."""

AFTER = 200
"""In a large search one unit of the aim counts as much as this many of the largest numbers of what comes after it."""

SCATTER = 2_654_435_761
"""2^32 over the golden ratio: groups go into parts in an order without pattern, another one in each pass."""


@dataclass(frozen=True, slots=True)
class Ends:
    """What the first columns, those of plants, run between.

    Attributes
    ----------
    sender, receiver : by column of plants, whole numbers
    parcel : by column of plants, the column of the parcels it may go in
    """

    sender: Ints
    receiver: Ints
    parcel: Ints


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


def bound_by_duals(grid: IntegerProgram, face: Face, aim: Aim) -> tuple[Leaf, Floats, Ints]:
    """Prove a bound by an interior point; give its columns, too, and the reduced costs in parts of `SCALE`.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver has no point at all
    """
    inside = solve_interior(grid, face, aim)
    duals = whole_duals(face, inside.duals, SCALE)
    reduced = reduced_costs(grid, aim.cost * SCALE, duals)
    bound = dual_bound(grid, face, reduced, duals) // SCALE
    return Leaf((), SCALE, duals, bound), inside.x, reduced


def best_in_parts(
    grid: IntegerProgram, face: Face, aim: Aim, hints: SearchHints, bound: int | None
) -> tuple[Ints, Leaf]:
    """Look for a good answer, and prove a bound.

    Parameters
    ----------
    bound : the solver's own, if it has one: it may be better than that which is proven

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when no answer was found
    """
    leaf, inside, reduced = bound_by_duals(grid, face, aim)
    ends, both = hints.ends, hints.joined(aim.cost)
    bound = leaf.bound if bound is None else min(bound, leaf.bound)
    x = _first(grid, face, aim, both, (ends, inside))
    plants = len(ends.parcel)
    cheap = reduced[:plants] >= -TOO_DEAR * SCALE
    used = int((x[:plants] > 0).sum())
    for part in _parts(ends, cheap, used):
        # Once nobody can do better, the rest of the search would change nothing.
        if int(aim.cost @ x) >= bound and both is aim.cost:
            break
        told = Aim(aim.stage, both, _told(aim, x, bound))
        x = _settled(grid, face, told, part & (cheap | (x[:plants] > 0)), x, ends)
    return x, leaf


def _told(aim: Aim, x: Ints, bound: int) -> Watch:
    """Give a watcher that is told the whole answer and its bound, whatever a part comes to."""
    value = float(aim.cost @ x)
    return lambda stage, _value, _bound: aim.watch(stage, value, float(bound))


def _first(
    grid: IntegerProgram, face: Face, aim: Aim, both: Ints, known: tuple[Ends, Floats]
) -> Ints:
    """Give the best of a few flows: the first priced by the parcels of the interior point, each further by those of the last."""
    ends, inside = known
    plants = len(ends.parcel)
    open_to = replace(face, lower=_parcels_open(face, ends))
    each = 1 - np.clip(inside[ends.parcel], 0, 1)
    best: Ints | None = None
    for _ in range(FLOWS):
        price = np.zeros(grid.columns, dtype=np.int64)
        price[:plants] = -np.rint(each * SCALE)
        x = lowered(grid, face, aim.cost, _flow(grid, open_to, replace(aim, cost=price)))
        if best is None or both @ x > both @ best:
            best = x
        # A plant costs its part of the parcel it went in; where none went, a whole one.
        load = np.bincount(ends.parcel, weights=x[:plants], minlength=grid.columns)
        each = 1 / np.maximum(load, 1)[ends.parcel]
    if best is None:
        raise SolverFailed(f"{aim.stage}: no flow was found")
    return best


def _parcels_open(face: Face, ends: Ends) -> Ints:
    """Give lower limits with a parcel wherever one may be."""
    lower = face.lower.copy()
    lower[ends.parcel] = face.upper[ends.parcel]
    return lower


def _flow(grid: IntegerProgram, face: Face, aim: Aim) -> Ints:
    """Give a cheapest whole-number flow, parcels apart."""
    x = solve_linear(grid, face, aim).x
    if not is_whole(x):
        x = solve_whole(grid, face, aim, NODES, ASKS * ASKS).x
    return np.rint(x).astype(np.int64)


def _parts(ends: Ends, cheap: NDArray[np.bool_], used: int) -> Iterator[NDArray[np.bool_]]:
    """Give the columns of plants of one part after the other; the more choice there is, the smaller are parts."""
    size = max(1, CHOICES * used // max(1, int(cheap.sum())))
    for number in range(PASSES):
        group = ends.receiver if number % 2 == 0 else ends.sender
        groups, where = np.unique(group, return_inverse=True)
        weight = np.bincount(where[cheap], minlength=len(groups))
        order = np.argsort((np.arange(1, len(groups) + 1) * SCATTER * (number + 1)) % 2**32)
        part = np.empty(len(groups), dtype=np.int64)
        part[order] = np.cumsum(weight[order]) // size
        for one in range(int(part.max(initial=-1)) + 1):
            yield part[where] == one


def _settled(
    grid: IntegerProgram, face: Face, aim: Aim, free: NDArray[np.bool_], x: Ints, ends: Ends
) -> Ints:
    """Settle free columns of plants anew, with their parcels and the steps of rules they stand in rows with."""
    moves = np.zeros(grid.columns, dtype=bool)
    moves[: len(free)] = free
    rows = np.zeros(len(grid.limits), dtype=bool)
    rows[grid.row_of[moves[grid.index]]] = True
    beside = np.zeros(grid.columns, dtype=bool)
    beside[grid.index[rows[grid.row_of]]] = True
    beside[: len(free)] = False
    beside[ends.parcel] = False
    moves |= beside
    moves[ends.parcel[free]] = True
    inner, limits = _cut(grid, face, moves, x)
    try:
        answer = solve_whole(inner, limits, replace(aim, cost=aim.cost[moves]), NODES, ASKS)
    except SolverFailed:
        return x
    found = x.copy()
    found[moves] = np.rint(answer.x).astype(np.int64)
    better = aim.cost @ found > aim.cost @ x and holds(grid, face, found)
    return found if better else x


def _cut(
    grid: IntegerProgram, face: Face, moves: NDArray[np.bool_], x: Ints
) -> tuple[IntegerProgram, Face]:
    """Cut out the columns that move and their rows, less what those that stand use."""
    inside = moves[grid.index]
    stands = row_sums(grid, np.where(inside, 0, grid.value * x[grid.index]))
    lengths = row_sums(grid, inside.astype(np.int64))
    rows = lengths > 0
    number = np.cumsum(moves) - 1
    each = lengths[rows]
    cut = IntegerProgram(
        starts=np.concatenate(([0], np.cumsum(each))).astype(np.int64),
        index=number[grid.index[inside]],
        value=grid.value[inside],
        row_of=np.repeat(np.arange(len(each), dtype=np.int64), each),
        limits=(grid.limits - stands)[rows],
        upper=face.upper[moves],
    )
    return cut, Face(face.lower[moves], face.upper[moves], face.equal[rows])
