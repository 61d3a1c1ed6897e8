"""Concave curves of a weighted count, and the straight lines that bound them from above."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from exchange.domain.optimise.programme import Floats, Ints

SLOPE_PARTS = 100
"""Slopes are whole multiples of 1 / SLOPE_PARTS [value for each unit of the count]."""

LEVELLED = 10**9
"""Values are handed to the solver divided by this, to keep its numbers of ordinary size."""

NOISE = 1000
"""Values closer than this count as equal: what rounding of slopes and duals can amount to."""

FIRST_LINES = 6
"""How many points of a curve have tangents at the beginning [lines]."""


@dataclass(frozen=True, slots=True)
class Curve:
    """A concave curve of a weighted count.

    Attributes
    ----------
    columns, weights : the count is the sum of weight x column
    counts, values : every count that could come about, rising from the least, and the curve's value there
    """

    columns: Ints
    weights: Ints
    counts: Ints
    values: Ints

    def count(self, x: Floats | Ints) -> float:
        """Give the count at x, beyond which the least count already stands."""
        return float(self.weights @ x[self.columns]) + float(self.counts[0])

    def at(self, x: Ints) -> int:
        """Give the curve's value at whole-number columns."""
        where = int(np.searchsorted(self.counts, round(self.count(x))))
        return int(self.values[where])

    def above(self, slope: int) -> int:
        """Give the most by which the curve exceeds a line through zero [1/SLOPE_PARTS of a value]."""
        return int(self._over(slope).max())

    def touching(self, slope: int, gap: int) -> tuple[int, int]:
        """Give the least and largest count at which the curve comes within the gap of its line."""
        over = self._over(slope)
        near = self.counts[over >= over.max() - gap]
        return int(near[0]), int(near[-1])

    def _over(self, slope: int) -> Ints:
        """Give by how much the curve exceeds a line through zero, count by count."""
        over = self.values * SLOPE_PARTS - slope * (self.counts - self.counts[0])
        return np.asarray(over, dtype=np.int64)


def hull(curve: Curve) -> tuple[Ints, Ints]:
    """Give the corners of the smallest concave curve above one."""
    counts, values = curve.counts, curve.values
    keeps = np.zeros(len(counts), dtype=bool)
    # A point on or below the line between its neighbours is no corner; once every point left is one, it is done.
    while not keeps.all():
        keeps = np.ones(len(counts), dtype=bool)
        run, rise = np.diff(counts), np.diff(values)
        keeps[1:-1] = rise[:-1] * run[1:] > rise[1:] * run[:-1]
        counts, values = counts[keeps], values[keeps]
    return counts, values


class Tangents:
    """The lines above every curve that have been needed so far."""

    def __init__(self, curves: Sequence[Curve]) -> None:
        self.curves = curves
        self.hulls = [hull(curve) for curve in curves]
        self.tops = [max(1.0, float(curve.values.max())) for curve in curves]
        self.lines: list[tuple[int, float, float]] = []
        self._seen: set[tuple[int, int]] = set()
        for number in range(len(curves)):
            counts = self.hulls[number][0]
            for corner in np.linspace(0, len(counts) - 1, FIRST_LINES).astype(int):
                self.add(number, float(counts[corner]))

    def add(self, number: int, count: float) -> bool:
        """Add the lines that touch a curve around a count; say whether any was new."""
        counts, values = self.hulls[number]
        if len(counts) == 1:
            new = (number, 0) not in self._seen
            self._seen.add((number, 0))
            if new:
                self.lines.append((number, 0.0, float(values[0]) / self.tops[number]))
            return new
        # A count that is a corner but for rounding takes the lines on both sides of it.
        right = int(np.clip(np.searchsorted(counts, count - 1e-6), 1, len(counts) - 1))
        new = False
        for end in {right, min(right + 1, len(counts) - 1)}:
            if (number, end) not in self._seen:
                self._seen.add((number, end))
                slope = (values[end] - values[end - 1]) / (counts[end] - counts[end - 1])
                base = values[end] - slope * (counts[end] - counts[0])
                top = self.tops[number]
                self.lines.append((number, float(slope) / top, float(base) / top))
                new = True
        return new

    def value(self, counts: Sequence[float]) -> float:
        """Give the value at these counts, straight between the corners."""
        return sum(
            float(np.interp(count, *hulled))
            for count, hulled in zip(counts, self.hulls, strict=True)
        )

    def slopes(self, duals: Floats) -> list[int]:
        """Mix the slopes of the lines by their duals, in whole parts."""
        mixed = np.zeros(len(self.curves))
        for (number, slope, _), dual in zip(self.lines, duals, strict=True):
            mixed[number] += slope * dual * LEVELLED
        return [int(one) for one in np.rint(mixed * SLOPE_PARTS)]
