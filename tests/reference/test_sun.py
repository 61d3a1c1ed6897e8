"""Sunrise and sunset against known days; times from memory of printed almanacs, to a few minutes."""

from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.domain.weather.sun import sun_times
from tests.builders.weather import daylight

LONDON = (51.5, -0.13)
FEW_MINUTES = timedelta(minutes=3)


@pytest.mark.parametrize(
    ("day", "rise", "sets"),
    [
        (date(2027, 6, 21), "03:43", "20:21"),
        (date(2027, 12, 21), "08:03", "15:53"),
        (date(2027, 3, 20), "06:04", "18:13"),
    ],
)
def test_london(day, rise, sets):
    sunrise, sunset = sun_times(*LONDON, day)

    assert abs(sunrise - datetime.fromisoformat(f"{day}T{rise}+00:00")) <= FEW_MINUTES
    assert abs(sunset - datetime.fromisoformat(f"{day}T{sets}+00:00")) <= FEW_MINUTES


def test_at_the_equinox_day_and_night_are_nearly_equal_everywhere():
    for latitude in (-45.0, 0.0, 35.0, 58.0):
        assert daylight(latitude, date(2027, 3, 20)) == pytest.approx(12.15, abs=0.15)


def test_the_south_has_its_long_days_when_the_north_has_short_ones():
    assert daylight(-41.0, date(2027, 12, 21)) == pytest.approx(
        daylight(41.0, date(2027, 6, 21)), abs=0.05
    )


def test_farther_east_the_sun_rises_earlier():
    west, east = (sun_times(50.0, lon, date(2027, 4, 5))[0] for lon in (-5.0, 1.7))

    assert (west - east) / timedelta(minutes=1) == pytest.approx(4 * 6.7, abs=0.1)


def test_beyond_the_polar_circle_there_is_no_sunset_in_june_and_no_sunrise_in_december():
    assert sun_times(69.0, 18.9, date(2027, 6, 21)) is None
    assert sun_times(69.0, 18.9, date(2027, 12, 21)) is None


def test_times_are_instants_in_utc():
    assert sun_times(*LONDON, date(2027, 4, 5))[0].tzinfo is UTC
