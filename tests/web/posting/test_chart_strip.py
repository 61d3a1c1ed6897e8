"""Days become the posting strip."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.web.posting.chart_strip import DayState, ShownDay, ShutRun, depth, draw_strip
from exchange.web.posting.chart_traces import Limits
from tests.builders.charts import MONDAY, a_strip, trace_day

THREE = (("This week", ""), ("Next week", ""), ("The week after", ""))
SUNDAY = "would lie over Sunday"


def days(words):
    """Give a day a word: an empty one is open, the others shut for that reason."""
    return tuple(
        ShownDay(
            MONDAY + timedelta(days=place),
            word or "good",
            loss=None if word else 0.05,
            state=DayState.SHUT if word else DayState.OPEN,
            is_quiet=word == "no post",
        )
        for place, word in enumerate(words)
    )


def runs(view):
    return [one for week in view.weeks for one in week.items if isinstance(one, ShutRun)]


def test_every_day_is_drawn_once_and_in_order():
    strip = a_strip(weeks=THREE)

    drawn = [cell.day for week in draw_strip(strip).weeks for cell in week.items]

    assert tuple(drawn) == strip.days


def test_both_ends_share_a_scale():
    view = draw_strip(a_strip(sender=(trace_day(10.0),) * 7, receiver=(trace_day(10.0),) * 7))
    sender, receiver = view.weeks[0].panels

    assert sender.trace.band == receiver.trace.band


def test_an_end_of_unknown_weather_is_left_out():
    view = draw_strip(a_strip(receiver=()))

    assert [panel.name for panel in view.weeks[0].panels] == ["From"]
    assert view.weeks[0].items[0].receiver_low is None
    assert view.weeks[0].items[0].sender_low is not None


def test_without_any_weather_the_days_still_stand():
    view = draw_strip(a_strip(sender=(), receiver=()))

    assert view.weeks[0].panels == ()
    assert len(view.weeks[0].items) == 7
    assert view.cold_at is None


def test_an_end_that_knows_too_few_days_is_refused():
    with pytest.raises(ValueError, match="every day of the strip"):
        draw_strip(a_strip(sender=(trace_day(),) * 6))


def test_a_colder_low_lies_farther_left():
    cell = draw_strip(a_strip()).weeks[0].items[0]

    assert cell.receiver_low.at < cell.sender_low.at
    assert cell.sender_low.left < cell.sender_low.at < cell.sender_low.right


def test_the_cold_limit_parts_the_small_drawings():
    view = draw_strip(
        a_strip(sender=(trace_day(9.0),) * 7, receiver=(trace_day(-1.0),) * 7, limits=Limits(4.0))
    )
    cell = view.weeks[0].items[0]

    assert cell.receiver_low.at < view.cold_at < cell.sender_low.at


def test_a_shut_day_has_no_hatching_and_an_open_one_always_a_line():
    assert depth(None) == 0
    assert depth(0.0) > 0


@given(st.floats(0, 1), st.floats(0, 1))
def test_the_more_is_lost_the_deeper_the_hatching(one, other):
    assert depth(max(one, other)) >= depth(min(one, other))
    assert depth(one) <= 100


def test_only_days_of_usual_weather_need_the_dotted_key():
    forecast = draw_strip(a_strip())
    usual = draw_strip(a_strip(sender=(replace(trace_day(), is_forecast=False),) * 7))

    assert not forecast.has_usual
    assert usual.has_usual


def test_shut_days_in_a_row_are_one_item_with_one_sentence():
    week = ("", "", "", SUNDAY, SUNDAY, SUNDAY, "no post")

    view = draw_strip(a_strip(days=days(week)))

    (run,) = runs(view)
    assert run.sentence == SUNDAY
    assert (run.days[0], run.days[-1]) == (MONDAY + timedelta(days=3), MONDAY + timedelta(days=6))
    assert view.weeks[0].shut == (False, False, False, True, True, True, True)
    assert len(view.weeks[0].items) == 4


def test_a_row_of_days_shut_for_two_reasons_says_both_and_only_quiet_days_say_their_own():
    view = draw_strip(a_strip(days=days(("May Day", SUNDAY, "", "no post", "", "", ""))))

    assert [run.sentence for run in runs(view)] == [f"May Day; {SUNDAY}", "no post"]


def test_the_lows_go_on_over_shut_days():
    sender = tuple(trace_day(low) for low in (0.0, 2.0, 9.0, 9.0, 9.0, 9.0, 9.0))
    view = draw_strip(a_strip(days=days((SUNDAY, SUNDAY, "", "", "", "", "")), sender=sender))

    (run,) = runs(view)
    levels = [float(part.split()[-1]) for part in run.sender_lows.split("H")[0].split("L")]
    assert levels[0] == levels[1] > levels[2]
    assert len(view.weeks[0].panels) == 2
