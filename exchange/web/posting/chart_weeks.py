"""Usual nights by week, up to the week that is warm enough, which stands on a label."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import NARROW, WIDE, Scale, Words, reach, tidy

_LEFT, _TOP, _BOTTOM = 44.0, 36.0, 150.0
_NARROW_LEFT, _NARROW_TOP, _NARROW_RIGHT, _ROW = 70.0, 26.0, 236.0, 31.0


@dataclass(frozen=True, slots=True)
class WeekBar:
    """One week.

    Attributes
    ----------
    title : "24 May"
    low_c, span_c : usual low, and where eight nights in ten lie [degrees C]
    is_warm : whether it is warm enough from this week on
    """

    title: str
    low_c: float
    span_c: tuple[float, float]
    is_warm: bool


@dataclass(frozen=True, slots=True)
class DrawnWeek:
    """A drawn week: the bar from `start` to `end` along its scale, the mark at `at`."""

    across: float
    start: float
    end: float
    at: float
    title: str
    is_warm: bool


@dataclass(frozen=True, slots=True)
class WeeksDrawing:
    """One drawing; in the wide one the scale runs up, in the narrow one to the right.

    Attributes
    ----------
    zero, limit : where 0 degrees and the limit lie
    label : where the first warm week lies, None where none is shown
    """

    width: float
    height: float
    zero: float
    limit: float
    cold_end: float
    lines: tuple[tuple[float, str], ...]
    weeks: tuple[DrawnWeek, ...]
    label: float | None


@dataclass(frozen=True, slots=True)
class WeeksView:
    """The weeks, wide and narrow."""

    wide: WeeksDrawing
    narrow: WeeksDrawing
    words: Words
    limit_words: str
    limit_degrees: str


def draw_weeks(
    weeks: Sequence[WeekBar], limit_c: float, words: Words, limit_words: tuple[str, str]
) -> WeeksView:
    """Draw the weeks; the scale always holds 0 degrees and the limit.

    Parameters
    ----------
    limit_words : what the limit means, and its degrees alone

    Raises
    ------
    ValueError : when there is no week
    """
    if not weeks:
        raise ValueError("There must be a week to draw.")
    low, high = reach([bound for week in weeks for bound in (*week.span_c, 0.0, limit_c)], 0.5)
    up, right = Scale(low, high, _BOTTOM, _TOP), Scale(low, high, _NARROW_LEFT, _NARROW_RIGHT)
    step = (WIDE - _LEFT) / len(weeks)
    across = [tidy(_LEFT + step * (place + 0.5)) for place in range(len(weeks))]
    down = [tidy(_NARROW_TOP + _ROW * (place + 0.5)) for place in range(len(weeks))]
    height = tidy(_NARROW_TOP + _ROW * len(weeks))
    return WeeksView(
        wide=_drawing((WIDE, _BOTTOM + 32), _BOTTOM, weeks, limit_c, up, across),
        narrow=_drawing((NARROW, height), _NARROW_LEFT, weeks, limit_c, right, down),
        words=words,
        limit_words=limit_words[0],
        limit_degrees=limit_words[1],
    )


def _drawing(
    size: tuple[float, float],
    cold_end: float,
    weeks: Sequence[WeekBar],
    limit_c: float,
    scale: Scale,
    centres: Sequence[float],
) -> WeeksDrawing:
    drawn = tuple(
        DrawnWeek(
            centre,
            scale.place(week.span_c[0]),
            scale.place(week.span_c[1]),
            scale.place(week.low_c),
            week.title,
            week.is_warm,
        )
        for week, centre in zip(weeks, centres, strict=True)
    )
    return WeeksDrawing(
        width=size[0],
        height=size[1],
        zero=scale.place(0.0),
        limit=scale.place(limit_c),
        cold_end=cold_end,
        lines=tuple((scale.place(one), f"{one:.0f}°") for one in scale.even(5.0) if one > 0),
        weeks=drawn,
        label=next((one.across for one in drawn if one.is_warm), None),
    )
