"""The day and night course against Parton and Logan 1981, Agricultural Meteorology 23:205.

Formulas as quoted at link.springer.com/article/10.1007/s00484-015-1017-7 (b = 2.2, a = 1.86 h).
"""

import math

import pytest

from exchange.domain.weather.traces import Course, night_decay, temperature


def published_decay(at_sunset, minimum, share):
    return minimum + (at_sunset - minimum) * math.exp(-2.2 * share)


def test_the_published_decay_stops_short_and_ours_does_not():
    assert published_decay(10.0, -2.0, 0.5) == pytest.approx(1.994453, abs=1e-6)
    assert published_decay(10.0, -2.0, 1.0) == pytest.approx(-0.670362, abs=1e-6)
    assert night_decay(10.0, -2.0, 1.0) == pytest.approx(-2.0, abs=1e-12)


@pytest.mark.parametrize("share", [0.0, 0.1, 0.25, 0.5, 0.75, 0.9])
def test_ours_is_the_published_decay_stretched_to_its_minimum(share):
    published = published_decay(1.0, 0.0, share)
    short = math.exp(-2.2)

    assert night_decay(1.0, 0.0, share) == pytest.approx((published - short) / (1.0 - short))


@pytest.mark.parametrize("hour", [1.0, 5.0, 9.0, 13.0])
def test_the_day_is_the_published_sine(hour):
    course = Course(3.0, 15.0, 1.0, 14.0)
    expected = 3.0 + 12.0 * math.sin(math.pi * hour / (14.0 + 2 * 1.86))

    assert temperature(course, hour) == pytest.approx(expected)
