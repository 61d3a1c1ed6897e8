"""Rows and columns in whole numbers, the face of optimal solutions, and bounds from dual numbers.

A dual number for each row gives, by weak duality, a bound that plain arithmetic can check. When the bound meets the
value, every other optimal solution lies on the face where columns with a reduced cost and rows with a dual are fixed;
the next rule is solved on that face, so no objective row is needed and the programmes keep their network shape.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.optimise.programme import Floats, Ints

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


def row_sums(grid: IntegerProgram, entries: Ints | NDArray[np.bool_]) -> Ints:
    """Add up numbers given for each entry, row by row."""
    sums = np.concatenate(([0], np.cumsum(entries, dtype=np.int64)))
    return np.asarray(sums[grid.starts[1:]] - sums[grid.starts[:-1]], dtype=np.int64)


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
