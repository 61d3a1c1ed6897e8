"""The outcome of all claims: a sign for each, in order."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import Words
from exchange.web.frame.chart_glyphs import (
    CROSS,
    HALF_LABEL,
    HATCHING,
    LABEL,
    SQUARE,
    GlyphGrid,
    Stroke,
    stamp,
)

_STEP = 24
_WIDE_COLUMNS = 30
_NARROW_COLUMNS = 12

# Which part of a sign is filled, and which only outlined.
_FILLED: dict[str, tuple[Stroke, ...]] = {"given": LABEL, "part": HALF_LABEL}
_DRAWN: dict[str, tuple[Stroke, ...]] = {
    "part": LABEL,
    "open": LABEL,
    "held": (*SQUARE, *HATCHING),
    "lost": CROSS,
}


@dataclass(frozen=True, slots=True)
class Outcome:
    """A number of claims with the same outcome.

    Attributes
    ----------
    kind : the sign, as in the macro `sign`: given, part, lost, held, open
    word : "met in full"
    tone : "good", "bad" or nothing
    """

    kind: str
    word: str
    count: int
    tone: str = ""


@dataclass(frozen=True, slots=True)
class Run:
    """The signs of one outcome as two paths."""

    filled: str
    drawn: str
    tone: str


@dataclass(frozen=True, slots=True)
class BarDrawing:
    """One drawing of the bar."""

    width: float
    height: float
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class BarView:
    """The bar, wide and narrow, and the outcomes for its key."""

    wide: BarDrawing
    narrow: BarDrawing
    outcomes: tuple[Outcome, ...]
    words: Words


def draw_bar(outcomes: Sequence[Outcome], words: Words) -> BarView:
    """Draw one sign per claim."""
    return BarView(
        _drawing(outcomes, _WIDE_COLUMNS),
        _drawing(outcomes, _NARROW_COLUMNS),
        tuple(outcomes),
        words,
    )


def _drawing(outcomes: Sequence[Outcome], columns: int) -> BarDrawing:
    grid = GlyphGrid(columns, _STEP, _STEP)
    runs, first = [], 0
    for outcome in outcomes:
        places = [grid.place(index) for index in range(first, first + outcome.count)]
        first += outcome.count
        runs.append(
            Run(
                stamp(_FILLED.get(outcome.kind, ()), places),
                stamp(_DRAWN.get(outcome.kind, ()), places),
                outcome.tone,
            )
        )
    return BarDrawing(columns * _STEP, max(grid.rows(first), 1) * _STEP, tuple(runs))
