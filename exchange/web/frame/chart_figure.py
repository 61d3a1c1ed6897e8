"""What every figure has: words, a table that says the same, and a scale from degrees to places."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

WIDE = 720
NARROW = 290

Cell = str | int | Markup


@dataclass(frozen=True, slots=True)
class Words:
    """What a figure says to those who cannot see it.

    Attributes
    ----------
    title, description : spoken in place of the drawing
    caption, heads, rows : "The same as a table"; each row has as many cells as there are heads
    """

    title: str
    description: str
    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Text:
    """A word in a drawing; `anchor` is SVG's: start, middle or end."""

    x: float
    y: float
    words: str
    anchor: str = "start"
    look: str = ""


@dataclass(frozen=True, slots=True)
class Scale:
    """Degrees to places along one direction of a drawing.

    Attributes
    ----------
    low_c, high_c : the ends of the scale [degrees C]
    at_low, at_high : where they lie in the drawing
    """

    low_c: float
    high_c: float
    at_low: float
    at_high: float

    def place(self, celsius: float) -> float:
        """Give the place of a temperature, no farther out than the ends."""
        share = (celsius - self.low_c) / (self.high_c - self.low_c)
        return tidy(self.at_low + min(max(share, 0.0), 1.0) * (self.at_high - self.at_low))

    def even(self, step: float) -> tuple[float, ...]:
        """Give the temperatures within the scale that are whole steps [degrees C]."""
        first = math.ceil(self.low_c / step)
        last = math.floor(self.high_c / step)
        return tuple(number * step for number in range(first, last + 1))


def reach(values: Iterable[float], room: float = 1.0) -> tuple[float, float]:
    """Give whole degrees that hold all values with some room at either end [degrees C]."""
    known = list(values)
    return math.floor(min(known) - room), math.ceil(max(known) + room)


def tidy(value: float) -> float:
    """Round to a tenth of a unit, which no eye tells from the exact place."""
    return round(value, 1)


def number(value: float) -> str:
    """Write a number for a path: one decimal at most, no trailing zero."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text
