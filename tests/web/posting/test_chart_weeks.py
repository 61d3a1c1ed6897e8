"""Usual nights by week become a drawing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.web.posting.chart_weeks import WeekBar, draw_weeks
from tests.builders.charts import words

LIMIT = ("7 °C or less: too cold for coleus", "7°")


def a_week(low, title="5 Apr", *, is_warm=False):
    return WeekBar(title, low, (low - 4, low + 4), is_warm=is_warm)


def test_the_label_stands_at_the_first_warm_week():
    view = draw_weeks(
        [a_week(4), a_week(8, is_warm=True), a_week(9, is_warm=True)], 7, words(), LIMIT
    )

    assert view.wide.label == view.wide.weeks[1].across
    assert view.narrow.label == view.narrow.weeks[1].across


def test_without_a_warm_week_no_label_stands():
    view = draw_weeks([a_week(4)], 7, words(), LIMIT)

    assert (view.wide.label, view.narrow.label) == (None, None)


@given(st.lists(st.floats(-15, 20), min_size=1, max_size=12), st.floats(0, 14))
def test_all_weeks_the_limit_and_0_degrees_lie_within_both_drawings(lows, limit):
    view = draw_weeks([a_week(low) for low in lows], limit, words(), LIMIT)

    for week in view.wide.weeks:
        assert 0 <= week.end <= week.at <= week.start <= view.wide.height
    for week in view.narrow.weeks:
        assert 0 <= week.start <= week.at <= week.end <= view.narrow.width
    assert view.wide.limit <= view.wide.zero
    assert view.narrow.zero <= view.narrow.limit


def test_without_a_week_there_is_nothing_to_draw():
    with pytest.raises(ValueError, match="a week"):
        draw_weeks([], 7, words(), LIMIT)
