from datetime import date

import pytest

from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.domain.weather.sunset import (
    ELSEWHERE_K,
    fit_sunset,
    tonight,
    tonight_elsewhere,
    with_reading,
)


def test_a_colder_evening_means_a_likelier_frost():
    mild, cold = tonight(9.0), tonight(2.0)

    assert cold.minimum_c < mild.minimum_c
    assert cold.frost_chance > mild.frost_chance


@pytest.mark.parametrize(("wind", "clear"), [(2.0, True), (6.0, True), (0.5, False)])
def test_in_wind_or_under_cloud_the_rule_does_not_hold(wind, clear):
    assert not tonight(2.0, wind_ms=wind, clear=clear).holds
    assert tonight(2.0, wind_ms=0.5).holds


def test_a_reading_sharpens_the_outlook_of_the_night():
    night = Night(date(2027, 4, 5), 2.0, 1.3, 12.0, WeatherSource.FORECAST)
    joined = with_reading(night, tonight(4.0, -2.0))

    assert joined.mean_c < night.mean_c
    assert joined.sd_c < night.sd_c


def test_a_reading_under_cloud_changes_nothing():
    night = Night(date(2027, 4, 5), 2.0, 1.3, 12.0, WeatherSource.FORECAST)

    assert with_reading(night, tonight(4.0, clear=False)) is night


def test_a_place_can_have_its_own_rule():
    nights = [(t, -t, 0.8 * t - 4.0) for t in (1.0, 2.0, 4.0, 6.0, 9.0)]

    assert fit_sunset(nights).minimum(5.0) == pytest.approx(0.0, abs=1e-9)


def test_a_rule_needs_nights_that_differ():
    with pytest.raises(ValueError, match="five nights"):
        fit_sunset([(1.0, 0.0, -1.0)] * 4)
    with pytest.raises(ValueError, match="alike"):
        fit_sunset([(1.0, 0.0, -1.0)] * 6)


def test_a_rule_from_elsewhere_doubts_more_and_most_far_from_its_evenings():
    near, far = (tonight_elsewhere(c, clear=True, still=True) for c in (3.0, 15.0))

    assert near.minimum_c == tonight(3.0).minimum_c
    assert tonight(3.0).sd_k < ELSEWHERE_K < near.sd_k < far.sd_k
    assert not tonight_elsewhere(3.0, clear=True, still=False).holds
    assert not tonight_elsewhere(3.0, clear=False, still=True).holds
