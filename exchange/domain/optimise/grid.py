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


@dataclass(frozen=True, slots=True)
class Grid:
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
) -> Grid:
    """Put rows of (column, coefficient) into arrays."""
    lengths = np.fromiter((len(row) for row in rows), dtype=np.int64, count=len(rows))
    flat = np.array([entry for row in rows for entry in row], dtype=np.int64).reshape(-1, 2)
    return Grid(
        starts=np.concatenate(([0], np.cumsum(lengths))).astype(np.int64),
        index=flat[:, 0],
        value=flat[:, 1],
        row_of=np.repeat(np.arange(len(rows), dtype=np.int64), lengths),
        limits=np.array(limits, dtype=np.int64),
        upper=np.array(upper, dtype=np.int64),
    )


def whole_face(grid: Grid) -> Face:
    """Give the face of all feasible solutions."""
    return Face(
        np.zeros_like(grid.upper), grid.upper.copy(), np.zeros(len(grid.limits), dtype=bool)
    )


def cost_array(grid: Grid, aim: Mapping[int, int]) -> Ints:
    """Put an aim (column -> coefficient) into an array."""
    cost = np.zeros(grid.columns, dtype=np.int64)
    for column, coefficient in aim.items():
        cost[column] = coefficient
    return cost


def programme(grid: Grid, face: Face, cost: Ints | Floats) -> Programme:
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


def reduced_costs(grid: Grid, cost: Ints, duals: Ints) -> Ints:
    """Give cost less what the duals charge for each column."""
    charge = np.zeros(grid.columns, dtype=np.int64)
    np.add.at(charge, grid.index, grid.value * duals[grid.row_of])
    return np.asarray(cost - charge, dtype=np.int64)


def dual_bound(grid: Grid, face: Face, reduced: Ints, duals: Ints) -> int:
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
    return bool(np.all(np.abs(x - np.rint(x)) < 1e-6))


@dataclass(frozen=True, slots=True)
class Cut:
    """Some columns of a grid with the rows that hold them.

    Attributes
    ----------
    columns, rows : their numbers in the whole grid
    number : by column of the whole grid, its number here
    """

    grid: Grid
    face: Face
    columns: Ints
    rows: Ints
    number: Ints


def cut_out(grid: Grid, face: Face, matters: NDArray[np.bool_]) -> Cut:
    """Cut out the columns that matter; rows that other columns alone could break are left behind."""
    columns = np.flatnonzero(matters)
    number = np.full(grid.columns, -1, dtype=np.int64)
    number[columns] = np.arange(len(columns))
    inside = matters[grid.index]
    held = np.zeros(len(grid.limits), dtype=bool)
    held[grid.row_of[inside & (grid.value > 0)]] = True
    held |= grid.limits < 0
    rows = np.flatnonzero(held)
    kept = inside & held[grid.row_of]
    lengths = np.bincount(grid.row_of[kept], minlength=len(grid.limits))[rows]
    small = Grid(
        starts=np.concatenate(([0], np.cumsum(lengths))).astype(np.int64),
        index=number[grid.index[kept]],
        value=grid.value[kept],
        row_of=np.repeat(np.arange(len(rows), dtype=np.int64), lengths),
        limits=grid.limits[rows],
        upper=grid.upper[columns],
    )
    inner = Face(face.lower[columns], face.upper[columns], face.equal[rows])
    return Cut(small, inner, columns, rows, number)
