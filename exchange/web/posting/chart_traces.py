"""A week of temperatures at one place: line, band, and where the plants' limits are passed."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import Scale
from exchange.web.frame.chart_waves import DAY_WIDTH, TraceDay, Wave, wave

HEIGHT = 100.0
_NEAR_K = 3.0
_EDGE_SHARE = 0.05
_MARKED_C = (0.0, 10.0)


@dataclass(frozen=True, slots=True)
class Limits:
    """What the plants bear.

    Attributes
    ----------
    cold_c : below this they are hurt, or None [degrees C]
    heat_c : above this they are hurt, or None [degrees C]
    """

    cold_c: float | None = None
    heat_c: float | None = None


@dataclass(frozen=True, slots=True)
class Trace:
    """A week's drawing in a box of `width` by 100.

    Attributes
    ----------
    band : outline of eight days in ten
    sure, usual : the middle line, as forecast and as usual for the date; either may be empty
    cold_y, heat_y : where the limits lie, None when the scale does not reach them
    marks : where 0 and 10 degrees lie, with their words
    over : outline of all above the middle line; within the cold zone it is what is too cold
    under : outline of all below it; within the heat zone it is what is too hot
    """

    width: float
    band: str
    sure: str
    usual: str
    cold_y: float | None
    heat_y: float | None
    marks: tuple[tuple[float, str], ...]
    over: str
    under: str


def scale_for(days: Sequence[TraceDay], limits: Limits) -> Scale:
    """Give one scale for all places and weeks, so that they can be compared.

    0 and 10 degrees and the cold limit always lie on it, a limit of heat once the days come within
    three degrees of it.
    """
    cold, heat = limits.cold_c, limits.heat_c
    low = min(*(day.low_span_c[0] for day in days), *_MARKED_C)
    high = max(*(day.high_span_c[1] for day in days), *_MARKED_C)
    if cold is not None:
        low, high = min(low, cold), max(high, cold)
    if heat is not None and high > heat - _NEAR_K:
        low, high = min(low, heat), max(high, heat)
    room = _EDGE_SHARE * (high - low)
    return Scale(low - room, high + room, HEIGHT, 0.0)


def draw_week(
    days: Sequence[TraceDay], first: int, count: int, scale: Scale, limits: Limits
) -> Trace:
    """Draw `count` days from number `first` on; the neighbours give the ends their slope."""
    start, stop = max(first - 1, 0), min(first + count + 1, len(days))
    shown = days[start:stop]
    offset = start - first
    middle = wave([(day.low_c, day.high_c) for day in shown], scale, offset)
    lower = wave([(day.low_span_c[0], day.high_span_c[0]) for day in shown], scale, offset)
    upper = wave([(day.low_span_c[1], day.high_span_c[1]) for day in shown], scale, offset)
    sure, usual = _parted(middle, shown)
    return Trace(
        width=count * DAY_WIDTH,
        band=upper.closed_with(lower),
        sure=sure,
        usual=usual,
        cold_y=_within(scale, limits.cold_c),
        heat_y=_within(scale, limits.heat_c),
        marks=tuple((scale.place(one), f"{one:.0f}°") for one in _MARKED_C),
        over=middle.closed_at(0.0),
        under=middle.closed_at(HEIGHT),
    )


def _parted(middle: Wave, shown: Sequence[TraceDay]) -> tuple[str, str]:
    """Part the line at the low of the first day that is only usual."""
    sure_days = sum(day.is_forecast for day in shown)
    points = middle.points
    if sure_days == 0:
        return "", middle.path()
    if sure_days == len(shown):
        return middle.path(), ""
    turn = 1 + 2 * sure_days
    return Wave(points[: turn + 1]).path(), Wave(points[turn:]).path()


def _within(scale: Scale, celsius: float | None) -> float | None:
    if celsius is None or not scale.low_c <= celsius <= scale.high_c:
        return None
    return scale.place(celsius)
