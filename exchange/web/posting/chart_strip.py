"""The posting strip: weeks of days to post on, and the temperatures of both places above them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from exchange.web.frame.chart_figure import Scale, Words, tidy
from exchange.web.frame.chart_waves import TraceDay
from exchange.web.posting.chart_traces import Limits, Trace, draw_week, scale_for

LOWS_WIDTH = 120.0
_FULL_DEPTH = 0.35
_LEAST_DEPTH = 4.0


class DayState(StrEnum):
    """How a day stands."""

    OPEN = "open"
    CHOSEN = "chosen"
    ANNOUNCED = "announced"
    HELD = "held"
    SHUT = "shut"


@dataclass(frozen=True, slots=True)
class ShownDay:
    """A day one may ask about.

    Attributes
    ----------
    word : what stands first in the cell: "post", "safe", "risky", "no", "no post", "too late"
    chance : "5 in 100", or nothing for a day that is shut
    chance_spoken : the same as heard: "5 in 100 would be lost"
    loss : expected share lost, or None for a day that is shut
    url : answers why this day or why not
    """

    day: date
    word: str
    chance: str = ""
    chance_spoken: str = ""
    loss: float | None = None
    state: DayState = DayState.OPEN
    url: str = ""
    is_asked: bool = False


@dataclass(frozen=True, slots=True)
class End:
    """One end of the journey: its name ("From: your garden, Lowmoor") and a TraceDay a day.

    No days where nothing is known of its weather; then it is not drawn.
    """

    name: str
    days: tuple[TraceDay, ...] = ()


@dataclass(frozen=True, slots=True)
class Strip:
    """What the strip is drawn from; both ends have a TraceDay for each of the days, or none.

    Attributes
    ----------
    weeks : titles of the weeks, each of seven of the days in order ("This week")
    limit_words : "under 4 °C these are hurt"
    heat_words : "over 30 °C these are hurt", or nothing
    """

    days: tuple[ShownDay, ...]
    sender: End
    receiver: End
    limits: Limits
    weeks: tuple[str, ...]
    words: Words
    limit_words: str = ""
    heat_words: str = ""


@dataclass(frozen=True, slots=True)
class Low:
    """A low and its whiskers along the small drawing of a day."""

    at: float
    left: float
    right: float


@dataclass(frozen=True, slots=True)
class StripCell:
    """A drawn day; `depth` is how far the hatching reaches down [per cent]."""

    day: ShownDay
    depth: float
    sender_low: Low | None
    receiver_low: Low | None


@dataclass(frozen=True, slots=True)
class StripPanel:
    """A week of one end: its name, what it says, its trace."""

    name: str
    trace: Trace


@dataclass(frozen=True, slots=True)
class StripWeek:
    """A drawn week."""

    title: str
    panels: tuple[StripPanel, ...]
    cells: tuple[StripCell, ...]


@dataclass(frozen=True, slots=True)
class StripView:
    """The drawn strip; `cold_at` is where the limit lies in the small drawings, or None."""

    weeks: tuple[StripWeek, ...]
    words: Words
    limit_words: str
    heat_words: str
    cold_at: float | None
    has_usual: bool


def draw_strip(strip: Strip) -> StripView:
    """Draw the strip.

    Raises
    ------
    ValueError : when an end knows another number of days than the strip has
    """
    ends = [end for end in (strip.sender, strip.receiver) if end.days]
    if any(len(end.days) != len(strip.days) for end in ends):
        raise ValueError("Each end needs the temperatures of every day of the strip, or of none.")
    traced = [day for end in ends for day in end.days]
    scale = scale_for(traced, strip.limits) if traced else None
    across = _across(traced, strip.limits)
    return StripView(
        weeks=tuple(
            _week(strip, ends, place * 7, scale, across) for place in range(len(strip.weeks))
        ),
        words=strip.words,
        limit_words=strip.limit_words,
        heat_words=strip.heat_words,
        cold_at=across.place(strip.limits.cold_c)
        if across and strip.limits.cold_c is not None
        else None,
        has_usual=any(not day.is_forecast for day in traced),
    )


def _week(
    strip: Strip, ends: Sequence[End], first: int, scale: Scale | None, across: Scale | None
) -> StripWeek:
    days = strip.days[first : first + 7]
    panels = (
        tuple(
            StripPanel(end.name, draw_week(end.days, first, len(days), scale, strip.limits))
            for end in ends
        )
        if scale
        else ()
    )
    cells = tuple(
        StripCell(
            day,
            depth(day.loss),
            _low(strip.sender, first + place, across),
            _low(strip.receiver, first + place, across),
        )
        for place, day in enumerate(days)
    )
    return StripWeek(strip.weeks[first // 7], panels, cells)


def depth(loss: float | None) -> float:
    """Give how far the hatching reaches for an expected loss [per cent of its place].

    The hatching is full at 35 lost of 100: beyond that nobody weighs one day against another.
    A small loss keeps a thin line, so that it differs from a day that is shut.
    """
    if loss is None:
        return 0.0
    return tidy(min(max(loss / _FULL_DEPTH * 100, _LEAST_DEPTH), 100.0))


def _across(days: Sequence[TraceDay], limits: Limits) -> Scale | None:
    """The scale of the small drawings: all lows with their whiskers, and the limit."""
    if not days:
        return None
    ends = [bound for day in days for bound in day.low_span_c]
    if limits.cold_c is not None:
        ends += [limits.cold_c - 2, limits.cold_c + 2]
    return Scale(min(ends) - 1, max(ends) + 1, 0.0, LOWS_WIDTH)


def _low(end: End, place: int, across: Scale | None) -> Low | None:
    if not end.days or across is None:
        return None
    day = end.days[place]
    left, right = (across.place(bound) for bound in day.low_span_c)
    return Low(across.place(day.low_c), left, right)
