from datetime import date, timedelta
from statistics import NormalDist, fmean

import pytest

from exchange.domain.weather.climate import (
    at_height,
    by_day_of_year,
    spread_of_nights,
    usual_night,
)
from tests.builders.weather import SHAWBURY_MINIMA, a_climate


def test_the_daily_course_gives_the_monthly_means_back():
    days = [date(2027, 1, 1) + timedelta(days=offset) for offset in range(365)]
    course = by_day_of_year(SHAWBURY_MINIMA)

    for month, given in enumerate(SHAWBURY_MINIMA, start=1):
        mean = fmean(course[day.timetuple().tm_yday - 1] for day in days if day.month == month)
        assert mean == pytest.approx(given, abs=0.15)


def test_a_year_has_twelve_values():
    with pytest.raises(ValueError, match="twelve"):
        by_day_of_year((1.0,))


def test_the_spread_is_the_one_its_frost_days_imply():
    spread = spread_of_nights(3.92, 4.37, 30)

    assert NormalDist(3.92, spread).cdf(0.0) == pytest.approx(4.37 / 30)


@pytest.mark.parametrize(("mean", "frosts"), [(9.6, 0.03), (-9.0, 30.0), (0.2, 13.0), (2.0, 25.0)])
def test_where_frost_days_tell_nothing_the_spread_is_the_default(mean, frosts):
    assert spread_of_nights(mean, frosts, 30) == 3.5


def test_dublins_april_frost_chance_comes_from_nights_and_not_from_months():
    # weather of Dublin Airport 1991-2020: April mean minimum 3.88, share of frosts .124;
    # with the spread of monthly means (about 1 K) the chance would be below .001
    spread = spread_of_nights(3.88, 0.124 * 30, 30)

    assert NormalDist(3.88, spread).cdf(0.0) == pytest.approx(0.124, abs=1e-9)
    assert spread == pytest.approx(3.36, abs=0.05)


def test_a_hundred_metres_higher_is_0_65_degrees_colder():
    low = usual_night(a_climate(), date(2027, 4, 5))
    high = usual_night(at_height(a_climate(), 172.0), date(2027, 4, 5))

    assert low.mean_c - high.mean_c == pytest.approx(0.65)
    assert low.day_high_c - high.day_high_c == pytest.approx(0.65)
    assert low.sd_k == high.sd_k


def test_an_unknown_height_moves_nothing():
    assert at_height(a_climate(), None) == a_climate()


def test_the_last_day_of_a_leap_year_has_a_night():
    assert usual_night(a_climate(), date(2028, 12, 31)).sd_k > 0
    assert usual_night(a_climate(), date(2028, 12, 30)).sd_k > 0
