"""The coming nights at one place: a bar per night, above or below the freezing line."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import NARROW, WIDE, Scale, Text, Words, reach, tidy

_PLOT_LEFT = 42.0
_PLOT_TOP = 8.0
_PLOT_BOTTOM = 172.0
_NARROW_LEFT = 100.0
_NARROW_RIGHT = 280.0
_NARROW_TOP = 26.0
_ROW = 44.0
_GAP, _LETTER = 6.0, 8.6


@dataclass(frozen=True, slots=True)
class NightBar:
    """One night.

    Attributes
    ----------
    weekday, number : "Sat", "1"; stand under or beside the bar
    low_c, span_c : likely low, and where eight nights in ten lie [degrees C]
    """

    weekday: str
    number: str
    low_c: float
    span_c: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bar:
    """A drawn night: the bar from `start` to `end` along its scale, the mark at `at`."""

    across: float
    start: float
    end: float
    at: float
    is_frost: bool


@dataclass(frozen=True, slots=True)
class PotsStand:
    """Where the pots stand for so many nights in a row: "In the frost-free greenhouse, all five nights"."""

    nights: int
    words: str


@dataclass(frozen=True, slots=True)
class Bracket:
    """A bracket under nights in a row; no words where they are wider than it."""

    start: float
    end: float
    middle: float
    words: str


@dataclass(frozen=True, slots=True)
class NightsDrawing:
    """One drawing; in the wide one the scale runs up, in the narrow one to the right."""

    width: float
    height: float
    zero: float
    cold_end: float
    lines: tuple[tuple[float, str], ...]
    bars: tuple[Bar, ...]
    texts: tuple[Text, ...]
    brackets: tuple[Bracket, ...] = ()
    bracket_y: float = 0.0


@dataclass(frozen=True, slots=True)
class NightsView:
    """The nights, wide and narrow.

    Attributes
    ----------
    standing : where the pots stand, to be said under the narrow drawing
    standing_fits : whether the brackets of the wide one say it all
    """

    wide: NightsDrawing
    narrow: NightsDrawing
    words: Words
    has_frost: bool
    standing: tuple[str, ...] = ()
    standing_fits: bool = True


def draw_nights(
    nights: Sequence[NightBar], words: Words, standing: Sequence[PotsStand] = ()
) -> NightsView:
    """Draw the nights; the scale always reaches from below zero to above it.

    Parameters
    ----------
    standing : where the pots stand, over all the nights in order, or nothing

    Raises
    ------
    ValueError : when there is no night
    """
    if not nights:
        raise ValueError("There must be a night to draw.")
    low, high = reach([bound for night in nights for bound in (*night.span_c, 0.0)])
    brackets = _brackets(standing, (WIDE - _PLOT_LEFT) / len(nights))
    return NightsView(
        wide=_wide(nights, Scale(low, high, _PLOT_BOTTOM, _PLOT_TOP), brackets),
        narrow=_narrow(nights, Scale(low, high, _NARROW_LEFT, _NARROW_RIGHT)),
        words=words,
        has_frost=any(night.span_c[0] < 0 for night in nights),
        standing=tuple(one.words for one in standing),
        standing_fits=all(one.words for one in brackets),
    )


def _brackets(standing: Sequence[PotsStand], step: float) -> tuple[Bracket, ...]:
    drawn, first = [], 0
    for one in standing:
        start, end = (
            _PLOT_LEFT + step * first + _GAP,
            _PLOT_LEFT + step * (first + one.nights) - _GAP,
        )
        fits = len(one.words) * _LETTER < end - start
        drawn.append(
            Bracket(tidy(start), tidy(end), tidy((start + end) / 2), one.words if fits else "")
        )
        first += one.nights
    return tuple(drawn)


def _bars(nights: Sequence[NightBar], scale: Scale, centres: Sequence[float]) -> tuple[Bar, ...]:
    return tuple(
        Bar(
            across=centre,
            start=scale.place(night.span_c[0]),
            end=scale.place(night.span_c[1]),
            at=scale.place(night.low_c),
            is_frost=night.span_c[0] < 0,
        )
        for night, centre in zip(nights, centres, strict=True)
    )


def _lines(scale: Scale) -> tuple[tuple[float, str], ...]:
    step = 5.0 if scale.high_c - scale.low_c < 24 else 10.0
    return tuple(
        (scale.place(value), f"{value:.0f}°".replace("-", "\u2212"))
        for value in scale.even(step)
        if value != 0
    )


def _wide(nights: Sequence[NightBar], scale: Scale, brackets: tuple[Bracket, ...]) -> NightsDrawing:
    step = (WIDE - _PLOT_LEFT) / len(nights)
    centres = [tidy(_PLOT_LEFT + step * (place + 0.5)) for place in range(len(nights))]
    texts = []
    for night, centre in zip(nights, centres, strict=True):
        texts += [
            Text(centre, _PLOT_BOTTOM + 24, night.weekday, "middle"),
            Text(centre, _PLOT_BOTTOM + 46, night.number, "middle", "serif"),
        ]
    return NightsDrawing(
        width=WIDE,
        height=_PLOT_BOTTOM + (100 if brackets else 56),
        zero=scale.place(0),
        cold_end=_PLOT_BOTTOM,
        lines=_lines(scale),
        bars=_bars(nights, scale, centres),
        texts=tuple(texts),
        brackets=brackets,
        bracket_y=_PLOT_BOTTOM + 64,
    )


def _narrow(nights: Sequence[NightBar], scale: Scale) -> NightsDrawing:
    centres = [_NARROW_TOP + _ROW * (place + 0.5) for place in range(len(nights))]
    texts = []
    for night, centre in zip(nights, centres, strict=True):
        texts += [
            Text(0, centre + 6, night.weekday),
            Text(50, centre + 6, night.number, "start", "serif"),
        ]
    return NightsDrawing(
        width=NARROW,
        height=_NARROW_TOP + _ROW * len(nights),
        zero=scale.place(0),
        cold_end=_NARROW_LEFT,
        lines=_lines(scale),
        bars=_bars(nights, scale, centres),
        texts=tuple(texts),
    )
