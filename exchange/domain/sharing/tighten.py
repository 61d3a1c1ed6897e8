"""Limits of columns and of links drawn in as far as single rows show, in whole numbers: no answer is lost, and bounds get better.

The checker draws them in as the solver's side does, and so knows no solver here either.
"""

from array import array

import numpy as np

from exchange.domain.sharing.model import Ints, Model

MOST_ROUNDS = 30
"""How often limits are drawn in; each round is valid by itself."""


class Tightener:
    """The rows of a model, with limits that are drawn in."""

    def __init__(self, model: Model, lower: Ints, upper: Ints, equal: Ints) -> None:
        self.index = np.array(model.index, dtype=np.int64)
        self.value = np.array(model.value, dtype=np.int64)
        self.limits = np.array(model.limits, dtype=np.int64)
        lengths = np.array(model.lengths, dtype=np.int64)
        self.ends = np.concatenate(([0], np.cumsum(lengths)))
        self.row_of = np.repeat(np.arange(len(lengths), dtype=np.int64), lengths)
        self.lower, self.upper, self.full = lower, upper, equal[self.row_of] > 0

    def tighten(self) -> "array[int]":
        """Draw the limits of columns in, then those of links; give the coefficients."""
        for _ in range(MOST_ROUNDS):
            before = self.lower, self.upper
            self._once()
            if all(map(np.array_equal, before, (self.lower, self.upper))):
                break
        self._links()
        return array("q", self.value.tolist())

    def _once(self) -> None:
        """Look at every row once: what the others use at least, a column cannot have."""
        where, size, up = self.index, np.abs(self.value), self.value > 0
        lower, upper = self.lower.copy(), self.upper.copy()
        room = (self.limits - self._sums(self.lower, self.upper))[self.row_of] // size
        np.minimum.at(upper, where[up], (self.lower[where] + room)[up])
        np.maximum.at(lower, where[~up], (self.upper[where] - room)[~up])
        need = (self._sums(self.upper, self.lower) - self.limits)[self.row_of] // size
        up, down = up & self.full, ~up & self.full
        np.maximum.at(lower, where[up], (self.upper[where] - need)[up])
        np.minimum.at(upper, where[down], (self.lower[where] + need)[down])
        self.lower, self.upper = lower, upper

    def _links(self) -> None:
        """Make links no looser than need be: a column of 0 or 1 frees a row by no more than the others could use."""
        binary = (self.lower[self.index] == 0) & (self.upper[self.index] == 1)
        frees = (self.value < 0) & binary
        use = (self._sums(self.upper, self.lower) - self.limits)[self.row_of]
        # Where several columns free one row, each change would invalidate what the next relies on.
        alone = self._added(frees.astype(np.int64))[self.row_of] == 1
        loose = frees & alone & ~self.full & (use > 0) & (use < -self.value)
        self.value = np.where(loose, -use, self.value)

    def _sums(self, rising: Ints, falling: Ints) -> Ints:
        """Add rows up with one limit where a coefficient is above 0, and the other where it is below."""
        ends = np.where(self.value > 0, rising[self.index], falling[self.index])
        return self._added(ends * self.value)

    def _added(self, entries: Ints) -> Ints:
        """Add up numbers given for each entry, row by row."""
        sums = np.concatenate(([0], np.cumsum(entries)))
        return np.asarray(sums[self.ends[1:]] - sums[self.ends[:-1]], dtype=np.int64)
