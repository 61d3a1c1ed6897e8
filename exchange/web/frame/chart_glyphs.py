"""Small shapes in rows. Many of one kind are one path, so that a page stays light."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import number

Place = tuple[float, float]

# A shape is strokes that begin at a corner and go on relative to it.
Stroke = tuple[float, float, str]

LABEL: tuple[Stroke, ...] = ((2, 2, "h16v12l-8 5-8-5z"),)
HALF_LABEL: tuple[Stroke, ...] = ((2, 2, "h8v17l-8-5z"),)
SQUARE: tuple[Stroke, ...] = ((2, 2, "h16v16h-16z"),)
HATCHING: tuple[Stroke, ...] = ((3, 17, "l14-14"), (3, 9, "l6-6"), (11, 17, "l6-6"))
CROSS: tuple[Stroke, ...] = ((3, 3, "l14 14"), (17, 3, "l-14 14"))
POT: tuple[Stroke, ...] = ((1, 1, "h14l-2.2 12.4h-9.6z"),)
POT_DOT: tuple[Stroke, ...] = ((6.2, 6.6, "a1.8 1.8 0 1 0 3.6 0a1.8 1.8 0 1 0-3.6 0z"),)
POT_CROSS: tuple[Stroke, ...] = ((5, 4, "l6 6"), (11, 4, "l-6 6"))


@dataclass(frozen=True, slots=True)
class GlyphGrid:
    """Places in rows.

    Attributes
    ----------
    columns : how many stand in a row
    step_x, step_y : from one to the next
    upward : rows are added above the first, as pots are set on a staging
    """

    columns: int
    step_x: float
    step_y: float
    left: float = 0.0
    top: float = 0.0
    upward: bool = False

    def place(self, index: int) -> Place:
        """Give the corner of the place with the number, from 0."""
        row, column = divmod(index, self.columns)
        up = -1 if self.upward else 1
        return self.left + column * self.step_x, self.top + up * row * self.step_y

    def rows(self, count: int) -> int:
        """Give how many rows a number of them fills."""
        return -(-count // self.columns)


def stamp(shape: Sequence[Stroke], places: Iterable[Place]) -> str:
    """Give one path that draws the shape at every place."""
    return "".join(_stamped(shape, places))


def _stamped(shape: Sequence[Stroke], places: Iterable[Place]) -> Iterator[str]:
    for x, y in places:
        for from_x, from_y, rest in shape:
            yield f"M{number(x + from_x)} {number(y + from_y)}{rest}"
