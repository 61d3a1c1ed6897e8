"""Temperatures become lines."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.web.frame.chart_figure import Scale
from exchange.web.frame.chart_waves import Wave, wave
from exchange.web.posting.chart_traces import Limits, draw_week, scale_for
from tests.builders.charts import trace_day

NO_LIMITS = Limits()
UNIT = Scale(0.0, 100.0, 0.0, 100.0)


def numbers(path: str) -> list[float]:
    return [float(found) for found in re.findall(r"-?\d+(?:\.\d+)?", path)]


def corners(path: str) -> list[tuple[float, float]]:
    """The points a path of curves goes through."""
    found = numbers(path)
    return [(found[0], found[1]), *zip(found[6::6], found[7::6], strict=True)]


def test_a_curve_lies_along_half_a_cosine():
    handle_x = numbers(Wave(((0.0, 0.0), (1000.0, 1000.0))).path())[2] / 1000
    along = np.linspace(0, 1, 2001)
    x = 3 * (1 - along) ** 2 * along * handle_x + 3 * (1 - along) * along**2 * (1 - handle_x)
    x += along**3
    y = 3 * (1 - along) * along**2 + along**3

    off = np.abs(y - (1 - np.cos(np.pi * x)) / 2)

    assert off.max() < 0.003


def test_the_lowest_is_at_five_and_the_highest_at_three():
    points = wave([(20.0, 80.0)], UNIT, 0).points

    assert points[1] == (pytest.approx(100 * 5 / 24), 20.0)
    assert points[2] == (pytest.approx(100 * 15 / 24), 80.0)


def test_weeks_join_without_a_step():
    days = [trace_day(low, low + 9) for low in range(14)]
    scale = scale_for(days, NO_LIMITS)

    first = draw_week(days, 0, 7, scale, NO_LIMITS)
    second = draw_week(days, 7, 7, scale, NO_LIMITS)

    over_the_edge = [(x - 700, y) for x, y in corners(first.sure) if 650 < x < 725]

    assert len(over_the_edge) == 2
    for place in over_the_edge:
        assert place in [pytest.approx(other, abs=0.2) for other in corners(second.sure)]


def test_the_line_is_parted_where_the_forecast_ends():
    days = [trace_day(is_forecast=number < 3) for number in range(7)]

    trace = draw_week(days, 0, 7, scale_for(days, NO_LIMITS), NO_LIMITS)

    assert corners(trace.sure)[-1] == corners(trace.usual)[0]
    assert corners(trace.usual)[0][0] == pytest.approx(300 + 100 * 5 / 24, abs=0.1)


@pytest.mark.parametrize(("is_forecast", "empty"), [(True, "usual"), (False, "sure")])
def test_a_week_of_one_kind_is_one_line(is_forecast, empty):
    days = [trace_day(is_forecast=is_forecast)] * 7

    trace = draw_week(days, 0, 7, scale_for(days, NO_LIMITS), NO_LIMITS)

    assert getattr(trace, empty) == ""
    assert trace.sure or trace.usual


def test_a_limit_of_heat_is_drawn_only_when_the_days_come_near_it_that_of_cold_always():
    mild = [trace_day(12, 20)] * 7
    warm = [trace_day(12, 24)] * 7
    limits = Limits(4.0, 28.0)

    far = draw_week(mild, 0, 7, scale_for(mild, limits), limits)
    near = draw_week(warm, 0, 7, scale_for(warm, limits), limits)

    assert far.heat_y is None
    assert near.heat_y is not None
    assert far.cold_y is not None
    assert near.cold_y is not None


@pytest.mark.parametrize("low", [-12.0, 3.0, 14.0])
def test_0_and_10_degrees_are_marked_in_every_week(low):
    days = [trace_day(low, low + 3)] * 7
    scale = scale_for(days, NO_LIMITS)

    trace = draw_week(days, 0, 7, scale, NO_LIMITS)

    assert trace.marks == ((scale.place(0), "0°"), (scale.place(10), "10°"))
    assert 0 < trace.marks[1][0] < trace.marks[0][0] < 100


@given(
    st.lists(
        st.tuples(st.floats(-30, 30), st.floats(0, 25), st.floats(0, 8)), min_size=1, max_size=21
    )
)
def test_no_line_leaves_its_box(swings):
    days = [trace_day(low, low + rise, spread) for low, rise, spread in swings]
    limits = Limits(4.0, 28.0)
    scale = scale_for(days, limits)

    trace = draw_week(days, 0, min(len(days), 7), scale, limits)

    for path in (trace.band, trace.sure):
        assert all(0 <= y <= 100 for y in numbers(path)[1::2])


@given(st.floats(-20, 30), st.floats(-20, 30))
def test_what_is_warmer_stands_higher(one, other):
    scale = scale_for([trace_day(-20, 30)], NO_LIMITS)

    higher = scale.place(max(one, other)) <= scale.place(min(one, other))

    assert higher
