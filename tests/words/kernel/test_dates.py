from datetime import date, datetime, time

import pytest

from exchange.words.kernel import dates

NB = "\u00a0"


def test_a_day_is_tied_together():
    assert dates.day(date(2027, 4, 19)) == f"Mon{NB}19{NB}April"
    assert dates.day_and_year(date(2027, 4, 19)) == f"Mon{NB}19{NB}April{NB}2027"


@pytest.mark.parametrize(
    ("first", "last", "text"),
    [
        (date(2027, 4, 28), date(2027, 4, 28), "Wed 28 April"),
        (date(2027, 4, 28), date(2027, 4, 30), "Wed 28 to Fri 30 April"),
        (date(2027, 4, 30), date(2027, 5, 2), "Fri 30 April to Sun 2 May"),
    ],
)
def test_a_span_names_the_month_once_where_it_can(first, last, text):
    assert dates.span(first, last).replace(NB, " ") == text


@pytest.mark.parametrize(
    ("monday", "text"),
    [
        (date(2027, 5, 3), "first week of May"),
        (date(2027, 5, 10), "second week of May"),
        (date(2027, 5, 17), "third week of May"),
        (date(2027, 5, 24), "fourth week of May"),
        (date(2027, 5, 31), "last week of May"),
        (date(2027, 2, 22), "last week of February"),
    ],
)
def test_a_week_is_counted_within_its_month(monday, text):
    assert dates.week_of_month(monday) == text


def test_days_name_the_month_where_it_changes():
    days = [date(2027, 4, 30), date(2027, 5, 1), date(2027, 5, 2)]

    assert dates.days(days).replace(NB, " ") == "Fri 30 April, Sat 1 and Sun 2 May"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (time(0), "midnight"),
        (time(0, 30), "12.30 am"),
        (time(7), "7 am"),
        (time(12), "noon"),
        (time(12, 5), "12.05 pm"),
        (time(16), "4 pm"),
    ],
)
def test_hours_are_read_as_on_a_clock(value, text):
    assert dates.hour(value).replace(NB, " ") == text


@pytest.mark.parametrize(
    ("celsius", "step", "text"),
    [(7.4, 1, "7 °C"), (-0.3, 1, "0 °C"), (-1.4, 0.5, "−1.5 °C"), (4.25, 0.5, "4 °C")],
)
def test_degrees_are_rounded_and_carry_a_true_minus(celsius, step, text):
    assert dates.degrees(celsius, step).replace(NB, " ") == text


def test_a_moment_names_day_and_hour():
    assert dates.moment(datetime(2027, 4, 26, 18, 30)).replace(NB, " ") == "Mon 26 April at 6.30 pm"
