"""Make a whole-number programme smaller without losing a best answer: limits tightened, spare columns and rows left out.

Everything follows from one row at a time, in whole numbers, so that a bound on the small programme is one on the large.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.optimise.grid import Face, IntegerProgram
from exchange.domain.optimise.programme import Ints, SolverFailed

MOST_ROUNDS = 30
"""How often limits are tightened; each round is valid by itself, so stopping early only leaves the programme larger."""


@dataclass(frozen=True, slots=True)
class Shrunk:
    """The small programme, and the way back.

    Attributes
    ----------
    columns : of each small column, its number in the large grid
    follows : by column of the large grid, the one whose number it takes, or itself
    fixed : columns of the large grid where they are fixed
    base : what the fixed columns count
    """

    grid: IntegerProgram
    face: Face
    cost: Ints
    columns: Ints
    follows: Ints
    fixed: Ints
    base: int

    def large(self, x: Ints) -> Ints:
        """Give the columns of the large grid."""
        found = self.fixed.copy()
        found[self.columns] = x
        return np.asarray(found[self.follows], dtype=np.int64)


def activity(grid: IntegerProgram, low: Ints, high: Ints) -> Ints:
    """Give the least a row's sum can come to, with columns between low and high."""
    ends = np.where(grid.value > 0, low[grid.index], high[grid.index]) * grid.value
    return row_sums(grid, ends)


def row_sums(grid: IntegerProgram, entries: Ints | NDArray[np.bool_]) -> Ints:
    """Add up numbers given for each entry, row by row."""
    sums = np.concatenate(([0], np.cumsum(entries, dtype=np.int64)))
    return np.asarray(sums[grid.starts[1:]] - sums[grid.starts[:-1]], dtype=np.int64)


def narrow(grid: IntegerProgram, face: Face) -> Face:
    """Tighten the limits of columns as far as single rows show."""
    for _ in range(MOST_ROUNDS):
        found = _narrow_once(grid, face)
        if np.array_equal(found.lower, face.lower) and np.array_equal(found.upper, face.upper):
            break
        face = found
    return face


def _narrow_once(grid: IntegerProgram, face: Face) -> Face:
    """Look at every row once."""
    lower, upper = face.lower.copy(), face.upper.copy()
    size, up = np.abs(grid.value), grid.value > 0
    where = grid.index
    left = (grid.limits - activity(grid, face.lower, face.upper))[grid.row_of] // size
    np.minimum.at(upper, where[up], (face.lower[where] + left)[up])
    np.maximum.at(lower, where[~up], (face.upper[where] - left)[~up])
    full = face.equal[grid.row_of]
    short = (activity(grid, face.upper, face.lower) - grid.limits)[grid.row_of] // size
    np.maximum.at(lower, where[up & full], (face.upper[where] - short)[up & full])
    np.minimum.at(upper, where[~up & full], (face.lower[where] + short)[~up & full])
    return replace(face, lower=lower, upper=upper)


def tightened(grid: IntegerProgram, face: Face) -> IntegerProgram:
    """Make links no looser than need be: a column of 0 or 1 frees a row by no more than the others could use."""
    most = activity(grid, face.upper, face.lower)
    binary = (face.lower[grid.index] == 0) & (face.upper[grid.index] == 1)
    use = (most - grid.limits)[grid.row_of]
    loose = (grid.value < 0) & binary & ~face.equal[grid.row_of] & (use > 0) & (use < -grid.value)
    # Where several columns free one row, each change would invalidate what the next relies on.
    alone = row_sums(grid, ((grid.value < 0) & binary).astype(np.int64))[grid.row_of] == 1
    return replace(grid, value=np.where(loose & alone, -use, grid.value))


def shrink(grid: IntegerProgram, face: Face, cost: Ints) -> Shrunk:
    """Leave out what is fixed, rows that cannot be broken, and columns that only follow another.

    Raises
    ------
    SolverFailed
        when single rows show already that there is no answer
    """
    face = narrow(grid, face)
    grid = tightened(grid, face)
    live, is_open = _live(grid, face), face.upper > face.lower
    still = np.where(is_open, 0, face.lower)
    limits = grid.limits - row_sums(grid, grid.value * still[grid.index])
    inside = live[grid.row_of] & is_open[grid.index]
    if np.any(face.lower > face.upper) or np.any(live & (row_sums(grid, inside) == 0)):
        raise SolverFailed("no answer keeps the limits")
    left = replace(grid, limits=limits)
    follows, dropped = _followers(left, face, cost, inside)
    kept = is_open & (follows == np.arange(grid.columns))
    columns = np.flatnonzero(kept)
    counts = np.zeros(grid.columns, dtype=np.int64)
    np.add.at(counts, follows[is_open], cost[is_open])
    rows = live & ~dropped
    small = _cut(left, rows, inside, follows, kept)
    inner = Face(face.lower[columns], face.upper[columns], face.equal[rows])
    return Shrunk(small, inner, counts[columns], columns, follows, still, int(cost @ still))


def _live(grid: IntegerProgram, face: Face) -> NDArray[np.bool_]:
    """Say which rows could be broken."""
    most, least = activity(grid, face.upper, face.lower), activity(grid, face.lower, face.upper)
    return np.asarray((most > grid.limits) | (face.equal & (least < grid.limits)))


def _followers(
    grid: IntegerProgram, face: Face, cost: Ints, inside: NDArray[np.bool_]
) -> tuple[Ints, NDArray[np.bool_]]:
    """Find columns u that gain nothing and are asked for by one row alone, x <= u: u takes the number of x.

    Gives by column the one it follows, and the rows that go.
    """
    asked = np.bincount(grid.index[inside & (grid.value < 0)], minlength=grid.columns)
    full = np.bincount(grid.index[inside & face.equal[grid.row_of]], minlength=grid.columns)
    fits = (row_sums(grid, inside) == 2) & (grid.limits == 0) & ~face.equal
    ones = inside & fits[grid.row_of]
    leader = np.full(len(grid.limits), -1, dtype=np.int64)
    follower = leader.copy()
    for found, sign in ((leader, 1), (follower, -1)):
        entry = ones & (grid.value == sign)
        found[grid.row_of[entry]] = grid.index[entry]
    rows = np.flatnonzero((leader >= 0) & (follower >= 0))
    x, u = leader[rows], follower[rows]
    good = (asked[u] == 1) & (full[u] == 0) & (cost[u] <= 0) & (face.lower[u] == 0)
    good &= (face.lower[x] == 0) & (face.upper[u] >= face.upper[x])
    # A column that follows another may not itself be followed.
    good &= ~np.isin(x, u[good])
    follows = np.arange(grid.columns, dtype=np.int64)
    follows[u[good]] = x[good]
    dropped = np.zeros(len(grid.limits), dtype=bool)
    dropped[rows[good]] = True
    return follows, dropped


def _cut(
    grid: IntegerProgram,
    rows: NDArray[np.bool_],
    inside: NDArray[np.bool_],
    follows: Ints,
    kept: NDArray[np.bool_],
) -> IntegerProgram:
    """Cut rows out with the entries inside, followers under the number of those they follow."""
    row, number = np.cumsum(rows) - 1, np.cumsum(kept) - 1
    inside = inside & rows[grid.row_of]
    # A row may hold a column and one that follows it: their entries are added up.
    width = int(kept.sum())
    places = row[grid.row_of[inside]] * width + number[follows[grid.index[inside]]]
    places, where = np.unique(places, return_inverse=True)
    value = np.zeros(len(places), dtype=np.int64)
    np.add.at(value, where, grid.value[inside])
    row_of = places // max(width, 1)
    height = int(rows.sum())
    return IntegerProgram(
        starts=np.searchsorted(row_of, np.arange(height + 1)).astype(np.int64),
        index=places - row_of * width,
        value=value,
        row_of=row_of,
        limits=grid.limits[rows],
        upper=grid.upper[kept],
    )


def holds(grid: IntegerProgram, face: Face, x: Ints) -> bool:
    """Say whether columns lie on a face."""
    sums = row_sums(grid, grid.value * x[grid.index])
    within = bool(np.all(x >= face.lower) and np.all(x <= face.upper))
    full = bool(np.all(sums[face.equal] == grid.limits[face.equal]))
    return within and full and bool(np.all(sums <= grid.limits))


def lowered(grid: IntegerProgram, face: Face, cost: Ints, x: Ints) -> Ints:
    """Lower an answer's costly columns as far as its other columns allow."""
    costs = (cost < 0)[grid.index]
    asks = costs & (grid.value < 0)
    slack = grid.limits - row_sums(grid, grid.value * x[grid.index])
    # Of two columns that one row needs, neither falls: each would count on the other staying.
    slack[face.equal | (row_sums(grid, asks) > 1)] = 0
    fall = np.where(cost < 0, x - face.lower, 0)
    np.minimum.at(fall, grid.index[asks], (slack[grid.row_of] // np.abs(grid.value))[asks])
    fall[grid.index[costs & face.equal[grid.row_of]]] = 0
    return np.asarray(x - fall, dtype=np.int64)
