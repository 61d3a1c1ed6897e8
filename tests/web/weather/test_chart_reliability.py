"""The square of frost said against frost come."""

import pytest

from exchange.web.frame.chart_figure import Words
from exchange.web.weather.chart_reliability import SIDE, Tenth, draw_reliability

WORDS = Words("Said and come", "", "Said and come", ("Said", "Came"), ())


def drawn(*tenths):
    return draw_reliability(tenths, WORDS, "said")


def test_what_came_as_often_as_it_was_said_lies_on_the_slanting_line():
    view = drawn(*(Tenth(share, share, 5) for share in (0.0, 0.25, 0.5, 1.0)))
    (x0, y0), (x1, y1) = (
        tuple(float(part) for part in end.split(" ")) for end in view.line[1:].split("L")
    )

    for mark in view.marks:
        along = (mark.x - x0) / (x1 - x0)
        assert mark.y == pytest.approx(y0 + along * (y1 - y0), abs=0.2)


def test_frost_that_came_oftener_than_said_lies_above_the_line():
    said_rightly, came_oftener = drawn(Tenth(0.2, 0.2, 5), Tenth(0.2, 0.6, 5)).marks

    assert came_oftener.x == said_rightly.x
    assert came_oftener.y < said_rightly.y


def test_the_more_nights_the_larger_the_mark_and_all_stay_inside():
    marks = drawn(Tenth(0.0, 1.0, 1), Tenth(0.5, 0.5, 30), Tenth(1.0, 0.0, 60)).marks

    assert marks[0].radius < marks[1].radius < marks[2].radius
    for mark in marks:
        assert 0 <= mark.x - mark.radius <= mark.x + mark.radius <= SIDE
        assert 0 <= mark.y - mark.radius <= mark.y + mark.radius <= SIDE


def test_without_nights_the_square_stays_empty():
    assert drawn().marks == ()
