from datetime import UTC, datetime, timedelta

import pytest

from exchange.forecasts.intervals import duration, filled, hours_of, interval, lowered

MIDNIGHT = datetime(2027, 4, 19, tzinfo=UTC)


def at(hour):
    return MIDNIGHT + timedelta(hours=hour)


@pytest.mark.parametrize(
    ("text", "hours"), [("PT3H", 3), ("P1DT6H", 30), ("P2D", 48), ("PT90M", 1.5), ("PT0H", 0)]
)
def test_a_duration_of_days_hours_and_minutes_is_read(text, hours):
    assert duration(text) == timedelta(hours=hours)


@pytest.mark.parametrize("text", ["", "P", "PT", "P1DT", "3H", "PT3", "P1W", "PT-3H", "PT3H "])
def test_any_other_duration_is_refused(text):
    with pytest.raises(ValueError, match="duration"):
        duration(text)


def test_an_interval_is_told_in_utc():
    assert interval("2027-04-19T02:00:00+02:00/PT3H") == (at(0), at(3))


def test_an_hour_begun_counts_and_the_end_does_not():
    assert list(hours_of(at(0) + timedelta(minutes=20), at(3))) == [at(0), at(1), at(2)]
    assert list(hours_of(at(0), at(0))) == []


def test_gaps_of_six_hours_are_filled_on_a_straight_line_and_longer_ones_stay():
    found = filled({at(9): -6.0, at(0): 6.0, at(6): 0.0, at(16): 1.0, at(17): 2.0})

    assert [found.get(at(hour)) for hour in range(10)] == [6, 5, 4, 3, 2, 1, 0, -2, -4, -6]
    assert not any(at(hour) in found for hour in range(10, 16))
    assert (found[at(16)], found[at(17)]) == (1.0, 2.0)


def test_the_coldest_hour_is_lowered_to_a_colder_minimum_and_no_other():
    hours = {at(0): 4.0, at(1): 2.0, at(2): 2.0, at(3): 5.0}

    assert lowered(hours, [(at(0), at(3), -1.0)]) == hours | {at(1): -1.0}


def test_a_milder_minimum_and_one_without_hours_change_nothing():
    hours = {at(0): 4.0, at(1): 2.0}

    for minimum in (2.0, 3.0, 9.0):
        assert lowered(hours, [(at(0), at(1), minimum), (at(5), at(8), -9.0)]) == hours


def test_both_ends_of_a_span_count():
    hours = {at(0): 4.0, at(6): 2.0}

    assert lowered(hours, [(at(0), at(5), 1.0), (at(6), at(6), 0.0)]) == {at(0): 1.0, at(6): 0.0}


def test_hours_are_drawn_only_after_the_instants_named_and_nothing_out_of_nothing():
    found = filled({at(0): 6.0, at(6): 0.0, at(12): 6.0}, {at(6)})

    assert [hour for hour in range(13) if at(hour) in found] == [0, 6, 7, 8, 9, 10, 11, 12]
    assert filled({}) == {}
