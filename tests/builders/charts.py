"""Figures to draw."""

from datetime import date, timedelta

from exchange.web.frame.chart_figure import Words
from exchange.web.frame.chart_waves import TraceDay
from exchange.web.posting.chart_strip import End, ShownDay, Strip
from exchange.web.posting.chart_traces import Limits

MONDAY = date(2027, 4, 19)


def words(title: str = "What is drawn") -> Words:
    return Words(title, "Nothing out of the way.", title, ("Day", "Low"), (("Mon", 3),))


def trace_day(low=5.0, high=14.0, spread=2.0, *, is_forecast=True) -> TraceDay:
    return TraceDay(
        low,
        high,
        (low - spread, low + spread),
        (high - spread, high + spread),
        is_forecast=is_forecast,
    )


def a_strip(
    days=None,
    sender=None,
    receiver=None,
    limits=None,
    weeks=(("This week", "Frost at both ends."),),
) -> Strip:
    count = 7 * len(weeks)
    return Strip(
        days=days
        or tuple(ShownDay(MONDAY + timedelta(days=n), "good", loss=0.05) for n in range(count)),
        sender=End("From", (trace_day(),) * count if sender is None else sender),
        receiver=End("To", (trace_day(2.0),) * count if receiver is None else receiver),
        limits=limits or Limits(4.0, 28.0),
        weeks=weeks,
        words=words(),
    )
