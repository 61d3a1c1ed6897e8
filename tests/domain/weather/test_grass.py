import pytest

from exchange.domain.weather.grass import GRASS, GrassCurve


def test_the_milder_the_night_the_less_ground_frost():
    chances = [GRASS.chance(screen) for screen in (-2.0, 0.0, 1.67, 3.0, 6.0)]

    assert chances == sorted(chances, reverse=True)
    assert chances[2] == pytest.approx(0.5)


def test_over_a_sure_minimum_it_is_the_curve_itself():
    assert GRASS.chance_over(1.0, 1e-6) == pytest.approx(GRASS.chance(1.0), abs=1e-6)


def test_an_unsure_minimum_draws_the_chance_toward_a_half():
    assert GRASS.chance(5.0) < GRASS.chance_over(5.0, 2.0) < 0.5
    assert 0.5 < GRASS.chance_over(-2.0, 2.0) < GRASS.chance(-2.0)


def test_at_its_middle_an_unsure_minimum_is_even():
    assert GrassCurve(2.0, 0.7).chance_over(2.0, 1.5) == pytest.approx(0.5)
