from datetime import date

import pytest

from exchange.domain.weather.ensemble import chance_of_members, of_members
from exchange.domain.weather.forecast import WeatherSource
from exchange.domain.weather.outlook import outlook
from tests.builders.weather import NOW, Pin, a_climate, a_forecast, hourly

TONIGHT = date(2026, 4, 18)


def an_ensemble(minima, *, control=3.0):
    day = [8.0] * 20 + [None] * 10 + [8.0] * 18

    def run(minimum):
        return [minimum if value is None else value for value in day]

    readings = [*hourly(run(control))]
    for number, minimum in enumerate(minima):
        readings += hourly(run(minimum), member=number)
    return a_forecast(readings, source="Open-Meteo ensemble")


def test_members_count_as_they_are_with_the_error_of_the_site():
    mean, spread = of_members((1.0, 2.0, 3.0), site_error_k=0.5)

    assert mean == 2.0
    assert spread == pytest.approx((2.0 / 3.0 + 0.25) ** 0.5)


def test_alike_members_still_have_the_error_of_the_site():
    assert of_members((1.0,) * 10, site_error_k=0.674)[1] == pytest.approx(0.674)


def test_the_chance_of_members_is_that_of_each_in_turn():
    assert chance_of_members(0.0, (-9.0, 9.0)) == pytest.approx(0.5)
    assert chance_of_members(0.0, (0.0,)) == pytest.approx(0.5)


def test_an_ensemble_makes_the_night_without_any_drawing_toward_climate():
    seen = outlook(
        Pin(), an_ensemble((-4.0, -3.0, -2.0, -1.0, 0.0)), a_climate(), (TONIGHT, 2), NOW
    )

    night = seen.nights[0]
    assert night.source is WeatherSource.FORECAST
    assert night.mean_c == pytest.approx(-2.5)  # less the cold correction of raw minima
    assert night.members == (-4.5, -3.5, -2.5, -1.5, -0.5)


def test_too_few_members_leave_the_plain_forecast():
    seen = outlook(Pin(), an_ensemble((-4.0, -3.0)), a_climate(), (TONIGHT, 1), NOW)

    assert seen.nights[0].members == ()
    assert seen.nights[0].mean_c > 0.0


def test_no_members_are_no_ensemble():
    with pytest.raises(ValueError, match="members"):
        of_members(())
    with pytest.raises(ValueError, match="members"):
        chance_of_members(0.0, ())
