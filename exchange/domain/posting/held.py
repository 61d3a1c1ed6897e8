"""The lowest and highest temperature held for three hours: what harms plants, not one instant."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

HELD_HOURS = 3
"""Hours in a row that a temperature must last to do the harm that the curves of loss speak of (judgement) [h]."""


@dataclass(slots=True)
class Held:
    """Cores followed hour by hour, and the extremes they have held so far.

    The lowest temperature held is the lowest of the highest values of any three hours in a row; the highest held
    is the opposite.

    Attributes
    ----------
    low, high : held so far [degrees C]
    before : the cores of the hours just gone, the latest last [degrees C]
    """

    low: Array
    high: Array
    before: tuple[Array, ...]

    @classmethod
    def steady(cls, core: Array) -> "Held":
        """Begin with cores that have been at their temperature for hours [degrees C]."""
        return cls(core.copy(), core.copy(), (core.copy(),) * (HELD_HOURS - 1))

    def add(self, core: Array) -> None:
        """Take the cores of the next hour [degrees C]."""
        top, bottom = core, core
        for earlier in self.before:
            top, bottom = np.maximum(top, earlier), np.minimum(bottom, earlier)
        np.minimum(self.low, top, out=self.low)
        np.maximum(self.high, bottom, out=self.high)
        self.before = (*self.before[1:], core.copy())

    def branch(self) -> "Held":
        """Give a journey that goes on by itself from here."""
        return Held(self.low.copy(), self.high.copy(), self.before)
