"""A chance as a hundred labels, the lost ones crossed out, at the end."""

from dataclasses import dataclass

from exchange.web.frame.chart_figure import Words
from exchange.web.frame.chart_glyphs import CROSS, LABEL, GlyphGrid, stamp

_WIDE_GRID = GlyphGrid(columns=20, step_x=25, step_y=26, left=2, top=2)
_NARROW_GRID = GlyphGrid(columns=10, step_x=29, step_y=26, left=4, top=2)


@dataclass(frozen=True, slots=True)
class HundredDrawing:
    """The labels as paths."""

    width: float
    height: float
    kept: str
    lost: str
    crosses: str


@dataclass(frozen=True, slots=True)
class HundredView:
    """The drawn hundred.

    Attributes
    ----------
    figure : "25 in 100"
    under : what it is the chance of: "with two gardens, as now"
    """

    figure: str
    under: str
    wide: HundredDrawing
    narrow: HundredDrawing
    words: Words


def draw_hundred(lost: int, figure: str, under: str, words: Words) -> HundredView:
    """Draw a hundred, with a number of them lost.

    Raises
    ------
    ValueError : when it is no number from 0 to 100
    """
    if not 0 <= lost <= 100:
        raise ValueError("Of a hundred, from none to all are lost.")
    return HundredView(
        figure, under, _drawing(lost, _WIDE_GRID), _drawing(lost, _NARROW_GRID), words
    )


def _drawing(lost: int, grid: GlyphGrid) -> HundredDrawing:
    places = [grid.place(index) for index in range(100)]
    kept, gone = places[: 100 - lost], places[100 - lost :]
    return HundredDrawing(
        width=grid.columns * grid.step_x + 4,
        height=grid.rows(100) * grid.step_y + 4,
        kept=stamp(LABEL, kept),
        lost=stamp(LABEL, gone),
        crosses=stamp(CROSS, gone),
    )
