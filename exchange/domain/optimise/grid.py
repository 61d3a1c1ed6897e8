"""Rows and columns in whole numbers, the face of optimal solutions, and bounds from dual numbers.

A dual number for each row gives, by weak duality, a bound that plain arithmetic can check. When the bound meets the
value, every other optimal solution lies on the face where columns with a reduced cost and rows with a dual are fixed;
the next rule is solved on that face, so no objective row is needed and the programmes keep their network shape.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.optimise.programme import Floats, Ints, Programme

Step = tuple[int, str, int]
"""A branch: column, "most" or "least", and the number it is held to."""


SLIGHT = 1e-6
"""How far from a whole number the solver's whole numbers may be: its own tolerance."""


@dataclass(frozen=True, slots=True)
class IntegerProgram:
    """Rows sum(value x column) <= limit over columns 0 <= x <= upper, all whole numbers.

    Attributes
    ----------
    starts, index, value : row by row
    row_of : the row of each entry
    """

    starts: Ints
    index: Ints
    value: Ints
    row_of: Ints
    limits: Ints
    upper: Ints

    @property
    def columns(self) -> int:
        """Give the number of columns."""
        return len(self.upper)


@dataclass(frozen=True, slots=True)
class Face:
    """Where solutions may still lie: limits of the columns, and rows that must be full."""

    lower: Ints
    upper: Ints
    equal: NDArray[np.bool_]


def make_grid(
    rows: Sequence[Sequence[tuple[int, int]]], limits: Sequence[int], upper: Sequence[int]
) -> IntegerProgram:
    """Put rows of (column, coefficient) into arrays."""
    flat = np.array([entry for row in rows for entry in row], dtype=np.int64).reshape(-1, 2)
    return flat_grid([len(row) for row in rows], (flat[:, 0], flat[:, 1]), limits, upper)


def flat_grid(
    lengths: Sequence[int],
    entries: tuple[Sequence[int] | Ints, Sequence[int] | Ints],
    limits: Sequence[int],
    upper: Sequence[int],
) -> IntegerProgram:
    """Put rows into arrays.

    Parameters
    ----------
    lengths, limits : of each row, how many entries it has, and its limit
    entries : the columns of all entries, row by row, and their coefficients
    upper : upper limit of each column
    """
    each = np.array(lengths, dtype=np.int64)
    return IntegerProgram(
        starts=np.concatenate(([0], np.cumsum(each))).astype(np.int64),
        index=np.array(entries[0], dtype=np.int64),
        value=np.array(entries[1], dtype=np.int64),
        row_of=np.repeat(np.arange(len(each), dtype=np.int64), each),
        limits=np.array(limits, dtype=np.int64),
        upper=np.array(upper, dtype=np.int64),
    )


def longer(
    grid: IntegerProgram, rows: Sequence[Sequence[tuple[int, int]]], limits: Sequence[int]
) -> IntegerProgram:
    """Add rows to a grid."""
    more = make_grid(rows, limits, ())
    return IntegerProgram(
        starts=np.concatenate((grid.starts, grid.starts[-1] + more.starts[1:])),
        index=np.concatenate((grid.index, more.index)),
        value=np.concatenate((grid.value, more.value)),
        row_of=np.concatenate((grid.row_of, len(grid.limits) + more.row_of)),
        limits=np.concatenate((grid.limits, more.limits)),
        upper=grid.upper,
    )


def whole_face(grid: IntegerProgram) -> Face:
    """Give the face of all feasible solutions."""
    return Face(
        np.zeros_like(grid.upper), grid.upper.copy(), np.zeros(len(grid.limits), dtype=bool)
    )


def cost_array(grid: IntegerProgram, aim: Mapping[int, int]) -> Ints:
    """Put an aim (column -> coefficient) into an array."""
    cost = np.zeros(grid.columns, dtype=np.int64)
    for column, coefficient in aim.items():
        cost[column] = coefficient
    return cost


def programme(grid: IntegerProgram, face: Face, cost: Ints | Floats) -> Programme:
    """Give the linear programme that maximises the cost on the face."""
    return Programme(
        cost=np.asarray(cost, dtype=np.float64),
        lower=face.lower.astype(np.float64),
        upper=face.upper.astype(np.float64),
        starts=grid.starts,
        index=grid.index,
        value=grid.value.astype(np.float64),
        limits=grid.limits.astype(np.float64),
        equal=face.equal,
    )


def whole_duals(face: Face, duals: Floats, scale: int) -> Ints:
    """Round duals to whole parts of 1/scale; rows that need not be full may not have a negative one."""
    rounded = np.rint(duals * scale).astype(np.int64)
    return np.where(face.equal, rounded, np.maximum(rounded, 0))


def reduced_costs(grid: IntegerProgram, cost: Ints, duals: Ints) -> Ints:
    """Give cost less what the duals charge for each column."""
    charge = np.zeros(grid.columns, dtype=np.int64)
    np.add.at(charge, grid.index, grid.value * duals[grid.row_of])
    return np.asarray(cost - charge, dtype=np.int64)


def dual_bound(grid: IntegerProgram, face: Face, reduced: Ints, duals: Ints) -> int:
    """Give the bound weak duality proves for the cost on the face."""
    # Sums are made of Python's whole numbers, which never overflow.
    rows, columns = np.flatnonzero(duals), np.flatnonzero(reduced)
    paid = zip(duals[rows].tolist(), grid.limits[rows].tolist(), strict=True)
    ends = np.where(reduced > 0, face.upper, face.lower)[columns].tolist()
    kept = zip(reduced[columns].tolist(), ends, strict=True)
    return int(sum(dual * limit for dual, limit in paid) + sum(rest * end for rest, end in kept))


def narrowed(face: Face, reduced: Ints, duals: Ints, gap: int) -> Face:
    """Keep the solutions whose value lies within the gap of the bound."""
    lower = np.where(reduced > gap, face.upper, face.lower)
    upper = np.where(reduced < -gap, face.lower, face.upper)
    return replace(face, lower=lower, upper=upper, equal=face.equal | (np.abs(duals) > gap))


def is_whole(x: Floats) -> bool:
    """Say whether every column is a whole number, to the solver's tolerance."""
    return bool(np.all(np.abs(x - np.rint(x)) < SLIGHT))


def helping(grid: IntegerProgram, face: Face, gains: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Say which columns can help those that gain; at zero, the others only leave more room.

    A column helps when it must not be zero, stands in a row that must be full, or lets a helping column or a limit
    below zero be met by a negative coefficient.
    """
    helps = gains | (face.lower > 0)
    helps[grid.index[face.equal[grid.row_of]]] = True
    gives = grid.value < 0
    while True:
        asks = grid.limits < 0
        asks[grid.row_of[helps[grid.index] & (grid.value > 0)]] = True
        more = helps.copy()
        more[grid.index[gives & asks[grid.row_of]]] = True
        if np.array_equal(more, helps):
            return helps
        helps = more


@dataclass(frozen=True, slots=True)
class Subprogram:
    """Some columns of a grid with the rows that hold them.

    Attributes
    ----------
    columns, rows : their numbers in the whole grid
    number : by column of the whole grid, its number here
    height : rows of the whole grid
    """

    grid: IntegerProgram
    face: Face
    columns: Ints
    rows: Ints
    number: Ints
    height: int

    def whole_x(self, x: Ints) -> Ints:
        """Give columns of the whole grid, the others at zero."""
        found = np.zeros(len(self.number), dtype=np.int64)
        found[self.columns] = x
        return found

    def whole_duals(self, duals: Ints) -> Ints:
        """Give duals of the whole grid's rows."""
        found = np.zeros(self.height, dtype=np.int64)
        found[self.rows] = duals
        return found

    def whole_path(self, path: tuple[Step, ...]) -> tuple[Step, ...]:
        """Give branches in the numbers of the whole grid."""
        return tuple((int(self.columns[column]), side, number) for column, side, number in path)


def cut_out(grid: IntegerProgram, face: Face, gains: NDArray[np.bool_]) -> Subprogram:
    """Cut out the columns that gain and those that help them; rows that only others could break are left behind.

    The rest stays at zero: its columns have no gain, and no row needs them, so that bounds proven here hold for all.
    """
    matters = helping(grid, face, gains)
    columns = np.flatnonzero(matters)
    number = np.full(grid.columns, -1, dtype=np.int64)
    number[columns] = np.arange(len(columns))
    inside = matters[grid.index]
    held = (grid.limits < 0) | face.equal
    held[grid.row_of[inside & (grid.value > 0)]] = True
    rows = np.flatnonzero(held)
    kept = inside & held[grid.row_of]
    lengths = np.bincount(grid.row_of[kept], minlength=len(grid.limits))[rows]
    small = IntegerProgram(
        starts=np.concatenate(([0], np.cumsum(lengths))).astype(np.int64),
        index=number[grid.index[kept]],
        value=grid.value[kept],
        row_of=np.repeat(np.arange(len(rows), dtype=np.int64), lengths),
        limits=grid.limits[rows],
        upper=grid.upper[columns],
    )
    inner = Face(face.lower[columns], face.upper[columns], face.equal[rows])
    return Subprogram(small, inner, columns, rows, number, len(grid.limits))
