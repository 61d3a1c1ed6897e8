import pytest

from exchange.domain.weather.traces import Course, half_wave, night_decay, temperature

APRIL = Course(minimum_before_c=2.0, maximum_c=14.0, minimum_c=-2.0, daylight_h=13.5)


def hours():
    return [hour / 4 for hour in range(97)]


def test_the_night_reaches_its_minimum_at_sunrise():
    # the published decay alone would stop at -2 + 12 exp(-2.2) = -0.67 for a fall from 10 to -2
    assert temperature(APRIL, 24.0) == pytest.approx(-2.0, abs=1e-12)
    assert night_decay(10.0, -2.0, 1.0) == pytest.approx(-2.0, abs=1e-12)


def test_the_day_reaches_its_maximum_lagging_behind_noon():
    warmest = max(hours(), key=lambda hour: temperature(APRIL, hour))

    assert temperature(APRIL, 13.5 / 2 + 1.86) == pytest.approx(14.0)
    assert warmest == pytest.approx(13.5 / 2 + 1.86, abs=0.25)


def test_the_course_begins_at_the_last_minimum_and_has_no_step_at_sunset():
    assert temperature(APRIL, 0.0) == 2.0
    assert temperature(APRIL, 13.5 + 1e-9) == pytest.approx(APRIL.at_sunset_c, abs=1e-6)


def test_the_night_only_falls_and_never_below_its_minimum():
    night = [temperature(APRIL, hour) for hour in hours() if hour >= 13.5]

    assert night == sorted(night, reverse=True)
    assert min(night) >= -2.0 - 1e-12


def test_a_day_follows_without_a_step():
    following = Course(-2.0, 11.0, 3.0, 13.55)

    assert temperature(APRIL, 24.0) == pytest.approx(temperature(following, 0.0))


def test_outside_its_hours_a_course_says_nothing():
    with pytest.raises(ValueError, match="24 hours"):
        temperature(APRIL, 25.0)
    with pytest.raises(ValueError, match="day and a night"):
        temperature(Course(2.0, 14.0, -2.0, 24.0), 3.0)


def test_a_half_wave_reaches_both_ends():
    assert half_wave(8.0, -3.0, 0.0) == pytest.approx(8.0)
    assert half_wave(8.0, -3.0, 0.5) == pytest.approx(2.5)
    assert half_wave(8.0, -3.0, 1.0) == pytest.approx(-3.0)
