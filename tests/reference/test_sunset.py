"""Sunset against published examples.

Sources: Meeus 1998, Astronomical Algorithms, example 28.a (equation of time 13 min 42.6 s on 13 October
1992, 0 h) and chapter 15 (rising and setting); FAO Irrigation and Drainage Paper 56, example 9 (a day of
11.7 h at 20 degrees south on 3 September, geometric, without refraction and the sun's disc).
"""

import math
from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.domain.weather.sun import HORIZON_DEG, sun_times
from tests.builders.weather import daylight

MINUTE = timedelta(minutes=1)


def test_the_sun_stands_highest_when_the_equation_of_time_says():
    rises, sets = sun_times(0.0, 0.0, date(1992, 10, 13))
    before_noon = datetime(1992, 10, 13, 12, tzinfo=UTC) - (rises + (sets - rises) / 2)
    twelve_hours_later_s = 7.0

    assert before_noon / MINUTE == pytest.approx(
        (13 * 60 + 42.6 + twelve_hours_later_s) / 60, abs=0.15
    )


def test_the_length_of_the_day_of_the_fao_example():
    """The sun's disc and refraction lengthen the day by what it takes to sink 0.833 degrees; the
    paper's own simpler declination makes it 0.04 h longer."""
    latitude, declination = -20.0, 0.120
    hour_angle = 1.527
    sinking = math.cos(math.radians(latitude)) * math.cos(declination) * math.sin(hour_angle)
    longer_h = 2 * math.radians(-HORIZON_DEG) / sinking * 12 / math.pi

    assert daylight(latitude, date(2027, 9, 3)) == pytest.approx(11.7 + longer_h, abs=0.08)
