"""Invented figures for the charts of the parts page."""

import math
from dataclasses import replace
from datetime import date, timedelta

from exchange.web.frame.chart_figure import Words
from exchange.web.frame.chart_waves import TraceDay
from exchange.web.growing.chart_hundred import HundredView, draw_hundred
from exchange.web.posting.chart_room import RoomView, RoomWeek, draw_room
from exchange.web.posting.chart_strip import DayState, End, ShownDay, Strip, StripView, draw_strip
from exchange.web.posting.chart_traces import Limits
from exchange.web.sharing.chart_outcomes import BarView, Outcome, draw_bar
from exchange.web.weather.chart_nights import NightBar, NightsView, PotsStand, draw_nights
from exchange.words.kernel import dates
from exchange.words.posting.parcels import chance_in_cell, chance_spoken

_MONDAY = date(2027, 4, 19)
_WEEKS = (
    ("This week", "Frost at both ends."),
    ("Next week", "Mild."),
    ("The week after", "As usual."),
)
_SHUT, _SUNDAY = "not their posting days", "would lie over Sunday"
_WORDS = (
    ("gone", None), ("frost there", 84), ("frost here", 71), (_SUNDAY, None), (_SUNDAY, None), (_SUNDAY, None), ("no post", None),
    ("cold there", 12), ("post", 5), ("good", 5), ("colder there", 7), (_SUNDAY, None), (_SUNDAY, None), ("no post", None),
    ("May Day", None), (_SHUT, None), ("good", 4), ("not known", None), (_SHUT, None), (_SHUT, None), ("no post", None),
)  # fmt: skip


def _trace(place: int, cooler: float, warmer: float = 0.0) -> TraceDay:
    low = 5 - cooler + 2.5 * math.sin(place / 3) + place / 6 + warmer
    high = low + 9 + 2 * math.cos(place / 2)
    spread = 0.8 + min(place, 10) / 4
    return TraceDay(
        low,
        high,
        (low - spread, low + spread),
        (high - spread, high + spread),
        is_forecast=place < 10,
    )


def _day(place: int, asked: int) -> ShownDay:
    word, hundredths = _WORDS[place]
    loss = hundredths / 100 if hundredths else None
    states = {"post": DayState.CHOSEN, "gone": DayState.GONE, "not known": DayState.OPEN}
    return ShownDay(
        day=_MONDAY + timedelta(days=place),
        word=word,
        chance=chance_in_cell(loss),
        chance_spoken=chance_spoken(loss),
        more="best: waiting costs more" if word == "post" else "",
        loss=loss,
        state=states.get(word, DayState.OPEN if loss else DayState.SHUT),
        url=f"#day-{place}",
        is_asked=place == asked,
        is_quiet=word == "no post",
    )


def strip(*, warm: bool = False) -> StripView:
    days = [_day(place, 7) for place in range(21)]
    if warm:
        days[9] = replace(days[9], word="told", state=DayState.ANNOUNCED)
    return draw_strip(
        Strip(
            days=tuple(days),
            sender=End(
                "From: your garden, Lowmoor",
                tuple(_trace(place, 0, 12.0 if warm else 0.0) for place in range(21)),
            ),
            receiver=End(
                "To: Colin’s garden, Arrow Foot",
                tuple(_trace(place, 4, 12.0 if warm else 0.0) for place in range(21)),
            ),
            limits=Limits(4.0, 28.0),
            weeks=_WEEKS,
            words=Words(
                "Days to post Bramble 27" + (" in a warm spring" if warm else ""),
                "Tue 27 April is safest: 2 in 100 would be lost. Frost at Arrow Foot until Thursday.",
                "Every day, and what would be lost" + (" in a warm spring" if warm else ""),
                ("Day", "In a word", "Would be lost"),
                tuple((dates.day(day.day), day.word, " ".join(day.chance)) for day in days),
            ),
            limit_words="under 4 °C these are hurt",
            heat_words="over 28 °C these are hurt",
        )
    )


def nights() -> NightsView:
    lows = (5.0, 4.5, 4.0, 2.5, 1.5, 3.5, 4.5, 5.0, 5.0, 5.5)
    bars = []
    for place, low in enumerate(lows):
        day = _MONDAY + timedelta(days=9 + place)
        spread = 2 + place / 4
        span = (low - spread, low + spread)
        bars.append(NightBar(dates.weekday(day), str(day.day), low, span))
    return draw_nights(
        bars,
        Words(
            "Lows of the next ten nights at your garden",
            "Sat 1 and Sun 2 May may fall below 0 °C.",
            "Night lows",
            ("Night of", "Likely low"),
            tuple((f"{bar.weekday} {bar.number}", dates.degrees(bar.low_c)) for bar in bars),
        ),
        (PotsStand(7, "In the frost-free greenhouse"), PotsStand(3, "Indoors")),
    )


def room(places: int = 20) -> RoomView:
    counts = ((10, 0), (13, 0), (14, 3), (14, 5), (12, 10), (9, 6), (6, 3), (3, 0))
    weeks = []
    for place, (standing, kept) in enumerate(counts):
        monday = _MONDAY + timedelta(weeks=place - 2)
        title = f"{monday.day} {dates.month(monday)[:3]}"
        weeks.append(RoomWeek(title, standing, kept, places))
    return draw_room(
        weeks,
        Words(
            "Room for pots by week",
            "Fullest in the week of 3 May: 22 pots for 20 places.",
            "Pots by week",
            ("Week of", "PotsStand", "Kept", "Places"),
            tuple((week.title, week.standing, week.kept, places) for week in weeks),
        ),
    )


def hundreds() -> tuple[HundredView, HundredView]:
    words = Words(
        "As now: 25 winters of 100 lose it",
        "A hundred winters like this one; in 25 of them no garden would have it in spring.",
        "The chance that we lose it",
        ("Gardens", "Lost of 100 winters"),
        (("two, as now", 25), ("three", 9)),
    )
    return (
        draw_hundred(25, "25 in 100", "with two gardens, as now", words),
        draw_hundred(9, "9 in 100", "if one more garden grew it", words),
    )


def share_bar() -> BarView:
    outcomes = (
        Outcome("given", "met in full", 41, "good"),
        Outcome("part", "in part", 6),
        Outcome("lost", "went to others", 5, "bad"),
        Outcome("held", "something in the way", 4),
        Outcome("open", "nobody offers it", 2),
    )
    return draw_bar(
        outcomes,
        Words(
            "58 claims and what came of them",
            "41 met in full, 6 in part, 5 went to others, 4 have something in the way, 2 nobody offers.",
            "58 claims",
            ("What came of them", "Claims"),
            tuple((outcome.word, outcome.count) for outcome in outcomes),
        ),
    )
