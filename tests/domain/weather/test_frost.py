from datetime import date, timedelta

import pytest

from exchange.domain.weather.climate import at_height
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.domain.weather.frost import (
    Frost,
    chance_of_frost,
    chance_of_frost_from,
    fit_last_frost,
    last_frost_days,
    safe_date,
)
from tests.builders.weather import a_climate


def nights(*means, sd=3.0):
    return [
        Night(date(2027, 4, 5) + timedelta(days=i), mean, sd, 12.0, WeatherSource.FORECAST)
        for i, mean in enumerate(means)
    ]


def test_the_inequality_is_part_of_a_frost():
    assert not Frost().is_met(0.0)
    assert Frost(at_threshold=True).is_met(0.0)
    assert Frost().is_met(-0.1)


def test_several_nights_are_riskier_than_the_worst_and_safer_than_independent_ones():
    single = [chance_of_frost([night]) for night in nights(2.0, 3.0, 1.0)]
    together = chance_of_frost(nights(2.0, 3.0, 1.0))

    independent = 1.0 - (1 - single[0]) * (1 - single[1]) * (1 - single[2])
    assert max(single) < together < independent


def test_no_nights_bear_no_frost():
    assert chance_of_frost([]) == 0.0


def test_the_safe_date_is_the_first_day_below_one_spring_in_ten():
    safe = safe_date(a_climate(), 2027)

    assert chance_of_frost_from(a_climate(), safe.day) <= 0.1
    assert chance_of_frost_from(a_climate(), safe.day - timedelta(days=1)) > 0.1
    assert date(2027, 5, 10) < safe.day < date(2027, 6, 10)
    assert safe.base_period == "1991-2020"


def test_higher_places_have_later_safe_dates():
    valley = safe_date(a_climate(), 2027)
    hill = safe_date(at_height(a_climate(), 272.0), 2027)

    assert hill.day > valley.day


def test_a_mild_coast_has_fewer_springs_with_frost():
    mild = a_climate(any_frost=(0.4, 0.4, 0.2, 0.03, 0, 0, 0, 0, 0, 0, 0.1, 0.3), height_m=5.0)
    safe = safe_date(mild, 2027)

    assert safe.frost_share < 0.9
    assert safe.day < date(2027, 4, 10)


def test_without_the_stations_frost_months_the_chain_of_nights_gives_a_date():
    known, unknown = safe_date(a_climate(), 2027), safe_date(a_climate(any_frost=()), 2027)

    assert timedelta(0) <= unknown.day - known.day < timedelta(days=28)


def test_where_frost_never_ends_there_is_no_safe_date():
    assert safe_date(at_height(a_climate(), 2500.0), 2027) is None


def test_last_frosts_are_counted_by_year_with_years_of_none():
    start = date(2025, 1, 1)
    minima = [(start + timedelta(days=i), 4.0) for i in range(365 * 2)]
    minima[date(2025, 4, 20).timetuple().tm_yday - 1] = (date(2025, 4, 20), -0.5)

    assert last_frost_days(minima) == {2025: 110, 2026: None}


def test_a_year_with_too_many_gaps_is_left_out():
    start = date(2025, 1, 1)
    minima = [(start + timedelta(days=i), 4.0) for i in range(365) if i % 10]

    assert last_frost_days(minima) == {}


def test_fitting_keeps_the_share_of_years_with_frost():
    fitted = fit_last_frost([100, 110, 120, None], "2021-2024")

    assert fitted.frost_share == 0.75
    assert fitted.mean_day == 110
    assert fitted.chance_from(110) == pytest.approx(0.375)
    assert fitted.day_at(0.8) is None


def test_too_few_frosts_are_not_fitted():
    with pytest.raises(ValueError, match="three years"):
        fit_last_frost([100, None, None], "2022-2024")
