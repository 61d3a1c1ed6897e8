from datetime import date

import pytest

from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.sunset import (
    ELSEWHERE_K,
    fit_sunset,
    night_by_reading,
    tonight,
    tonight_elsewhere,
)


def test_a_colder_evening_means_a_likelier_frost():
    mild, cold = tonight(9.0), tonight(2.0)

    assert cold.minimum_c < mild.minimum_c
    assert cold.frost_chance > mild.frost_chance


@pytest.mark.parametrize(("wind", "clear"), [(2.0, True), (6.0, True), (0.5, False)])
def test_in_wind_or_under_cloud_the_rule_does_not_hold(wind, clear):
    assert not tonight(2.0, wind_ms=wind, clear=clear).holds
    assert tonight(2.0, wind_ms=0.5).holds


def test_a_reading_gives_a_night_of_its_own_and_none_under_cloud():
    said = tonight(4.0, -2.0)
    night = night_by_reading(said, date(2027, 4, 5), 4.0)

    assert (night.mean_c, night.sd_c) == (said.minimum_c, said.sd_k)
    assert chance_in(night) == said.frost_chance
    assert night_by_reading(tonight(4.0, clear=False), date(2027, 4, 5), 4.0) is None


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
