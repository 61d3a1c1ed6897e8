"""The posting strip: days to post on, shut days thin between them, the temperatures of both places above."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import groupby

from exchange.web.frame.chart_figure import Scale, Words, number, tidy
from exchange.web.frame.chart_waves import TraceDay
from exchange.web.posting.chart_traces import Limits, Trace, draw_week, scale_for
from exchange.words.kernel import dates

LOWS_WIDTH, LOWS_HEIGHT = 120.0, 52.0
_LEAST_DEPTH = 4.0


class DayState(StrEnum):
    """How a day stands: GONE is a day that was open, SHUT one on which it could not go anyway."""

    OPEN = "open"
    CHOSEN = "chosen"
    ANNOUNCED = "announced"
    GONE = "gone"
    SHUT = "shut"


@dataclass(frozen=True, slots=True)
class ShownDay:
    """A day of the strip.

    Attributes
    ----------
    word : what is said of it: "post", "good", "frost there"; of a shut day why: "not their posting days"
    chance : ("5", "in 100"), or nothing for a day without a figure
    chance_spoken : the same as heard: "5 in 100 would be lost"
    more : why it stands, under the chance: "waiting costs more"
    loss : expected share lost, or None for a day without a figure
    url : answers why this day or why not
    is_quiet : of a shut day, whether it is passed over where others in a row say why they are shut
    """

    day: date
    word: str
    chance: tuple[str, str] = ("", "")
    chance_spoken: str = ""
    more: str = ""
    loss: float | None = None
    state: DayState = DayState.OPEN
    url: str = ""
    is_asked: bool = False
    is_quiet: bool = False


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
    weeks : for each seven of the days in order its title ("This week") and its weather in words
    limit_words : "at 1 °C or less, wait"
    heat_words : "over 30 °C these are hurt", or nothing
    in_words : the weather of all the days
    """

    days: tuple[ShownDay, ...]
    sender: End
    receiver: End
    limits: Limits
    weeks: tuple[tuple[str, str], ...]
    words: Words
    limit_words: str = ""
    heat_words: str = ""
    in_words: str = ""


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
class ShutRun:
    """Shut days in a row: one item with one sentence.

    Attributes
    ----------
    sender_lows, receiver_lows : lines of the lows over its days in the small drawing, or nothing
    limit_y : where the limit lies in that drawing, or None
    """

    days: tuple[date, ...]
    span: str
    sentence: str
    sender_lows: str
    receiver_lows: str
    limit_y: float | None


@dataclass(frozen=True, slots=True)
class StripPanel:
    """A week of one end, "from" or "to": its name, its trace."""

    look: str
    name: str
    trace: Trace


@dataclass(frozen=True, slots=True)
class StripWeek:
    """A drawn week.

    Attributes
    ----------
    said : its weather in words
    shut : for each of its days whether it is shut, so that the weather above is as narrow
    items : its days in order, shut ones in runs
    """

    title: str
    said: str
    panels: tuple[StripPanel, ...]
    shut: tuple[bool, ...]
    items: tuple[StripCell | ShutRun, ...]


@dataclass(frozen=True, slots=True)
class StripView:
    """The drawn strip; `cold_at` is where the limit lies in the small drawings, or None."""

    weeks: tuple[StripWeek, ...]
    words: Words
    limit_words: str
    heat_words: str
    in_words: str
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
        weeks=tuple(_week(strip, place * 7, scale, across) for place in range(len(strip.weeks))),
        words=strip.words,
        limit_words=strip.limit_words,
        heat_words=strip.heat_words,
        in_words=strip.in_words,
        cold_at=across.place(strip.limits.cold_c)
        if across and strip.limits.cold_c is not None
        else None,
        has_usual=any(not day.is_forecast for day in traced),
    )


def _week(strip: Strip, first: int, scale: Scale | None, across: Scale | None) -> StripWeek:
    days = strip.days[first : first + 7]
    panels = (
        tuple(
            StripPanel(look, end.name, draw_week(end.days, first, len(days), scale, strip.limits))
            for look, end in (("from", strip.sender), ("to", strip.receiver))
            if end.days
        )
        if scale
        else ()
    )
    items: list[StripCell | ShutRun] = []
    for is_shut, run in groupby(range(len(days)), key=lambda place: _is_shut(days[place])):
        places = [first + place for place in run]
        items += [_run(strip, places)] if is_shut else _cells(strip, places, across)
    title, said = strip.weeks[first // 7]
    return StripWeek(title, said, panels, tuple(map(_is_shut, days)), tuple(items))


def _is_shut(day: ShownDay) -> bool:
    return day.state is DayState.SHUT


def _cells(strip: Strip, places: Iterable[int], across: Scale | None) -> list[StripCell]:
    return [
        StripCell(
            strip.days[place],
            depth(strip.days[place].loss),
            _low(strip.sender, place, across),
            _low(strip.receiver, place, across),
        )
        for place in places
    ]


def _run(strip: Strip, places: Sequence[int]) -> ShutRun:
    traced = [day for end in (strip.sender, strip.receiver) for day in end.days]
    up = _across(traced, strip.limits, (LOWS_HEIGHT, 0.0))
    limit = strip.limits.cold_c
    days = tuple(strip.days[place].day for place in places)
    return ShutRun(
        days,
        dates.span(days[0], days[-1]),
        _sentence([strip.days[place] for place in places]),
        _lows_line(strip.sender, places, up),
        _lows_line(strip.receiver, places, up),
        up.place(limit) if up and limit is not None else None,
    )


def _sentence(days: Sequence[ShownDay]) -> str:
    """Say once why none of the days is open; that nothing is collected on Sunday goes without saying."""
    words = dict.fromkeys(one.word for one in days if not one.is_quiet)
    return "; ".join(words) or days[0].word


def _lows_line(end: End, places: Sequence[int], up: Scale | None) -> str:
    """Draw the lows of a run of days, each in the middle of its share of the width."""
    if not end.days or up is None:
        return ""
    step = LOWS_WIDTH / len(places)
    levels = [number(up.place(end.days[place].low_c)) for place in places]
    middles = [f"L{number(step * (along + 0.5))} {level}" for along, level in enumerate(levels)]
    return f"M0 {levels[0]}{''.join(middles)}H{number(LOWS_WIDTH)}"


def depth(loss: float | None) -> float:
    """Give how far the hatching reaches for an expected loss [per cent of its place].

    A small loss keeps a thin line, so that it differs from a day that is shut.
    """
    return 0.0 if loss is None else tidy(max(loss * 100, _LEAST_DEPTH))


def _across(
    days: Sequence[TraceDay], limits: Limits, ends: tuple[float, float] = (0.0, LOWS_WIDTH)
) -> Scale | None:
    """The scale of the small drawings: all lows with their whiskers, and the limit."""
    if not days:
        return None
    bounds = [bound for day in days for bound in day.low_span_c]
    if limits.cold_c is not None:
        bounds += [limits.cold_c - 2, limits.cold_c + 2]
    return Scale(min(bounds) - 1, max(bounds) + 1, *ends)


def _low(end: End, place: int, across: Scale | None) -> Low | None:
    if not end.days or across is None:
        return None
    day = end.days[place]
    left, right = (across.place(bound) for bound in day.low_span_c)
    return Low(across.place(day.low_c), left, right)
