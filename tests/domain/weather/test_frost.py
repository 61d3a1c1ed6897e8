from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest

from exchange.domain.weather.climate import at_height, with_nights_shifted
from exchange.domain.weather.frost import (
    GROUND_FROST,
    HARD_FROST,
    chances_from,
    day_of,
    frost_by,
    safe_date,
)
from exchange.domain.weather.hazard import (
    GRASS_EVEN_C,
    RUN_OF_FROSTS,
    air_frost,
    at_place,
    ground_frost,
    spread_ratios,
)
from tests.builders.weather import SHAWBURY_ANY, a_climate, chance_of_frost_from


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


@pytest.mark.parametrize("months", [SHAWBURY_ANY, ()])
def test_a_hollow_is_a_week_or_two_late_and_never_a_month(months):
    level = safe_date(a_climate(any_frost=months), 2027).day
    hollow = safe_date(with_nights_shifted(a_climate(any_frost=months), -1.5), 2027).day

    assert timedelta(days=6) < hollow - level < timedelta(days=18)


def test_a_month_without_a_frost_in_thirty_years_invents_none():
    julys = air_frost(with_nights_shifted(a_climate(), -3.0))[181:212]

    assert 1 - np.exp(-julys.sum()) < 0.04


def test_a_mild_coast_has_fewer_springs_with_frost():
    mild = a_climate(any_frost=(0.4, 0.4, 0.2, 0.03, 0, 0, 0, 0, 0, 0, 0.1, 0.3), height_m=5.0)

    assert safe_date(mild, 2027).day < safe_date(a_climate(), 2027).day


def test_where_frost_never_ends_there_is_no_safe_date():
    assert safe_date(at_height(a_climate(), 2500.0), 2027) is None


def test_where_frost_hardly_comes_every_day_of_the_year_is_safe():
    warm = with_nights_shifted(a_climate(any_frost=()), 20.0)

    assert safe_date(warm, 2027).day == date(2027, 1, 1)
    assert frost_by(warm, 2027, 0.1) is None


def test_what_is_rarer_comes_later_and_a_harder_frost_later_in_autumn():
    spring = [safe_date(a_climate(), 2027, share).day for share in (0.5, 0.1, 0.02)]
    autumn = [frost_by(a_climate(), 2027, share) for share in (0.1, 0.5)]

    assert spring == sorted(spring)
    assert autumn == sorted(autumn)
    assert frost_by(a_climate(), 2027, 0.5, HARD_FROST) > autumn[1]


def test_chances_fall_through_the_spring_and_ground_frost_is_the_likelier():
    air, ground = chances_from(a_climate()), chances_from(a_climate(), GROUND_FROST)

    assert all(later <= earlier for earlier, later in pairwise(air))
    assert (ground >= air).all()
    assert safe_date(a_climate(), 2027, frost=GROUND_FROST).day > safe_date(a_climate(), 2027).day


def test_ground_frost_is_the_mean_of_its_curve_over_the_nights_minimum():
    mean, spread = at_place(a_climate())
    minima = mean[120] + spread[120] * np.linspace(-8, 8, 20001)
    weights = np.exp(-0.5 * ((minima - mean[120]) / spread[120]) ** 2)
    curve = 1 / (1 + np.exp((minima - GRASS_EVEN_C) / 0.84))

    by_hand = RUN_OF_FROSTS * (curve * weights).sum() / weights.sum()

    assert ground_frost(a_climate())[120] == pytest.approx(by_hand, rel=1e-4)


def test_counted_frosts_speak_where_they_are_neither_sure_nor_unheard_of():
    def may(share):
        return a_climate(any_frost=(*SHAWBURY_ANY[:4], share, *SHAWBURY_ANY[5:]))

    days = [safe_date(may(share), 2027).day for share in (0.2, 0.5, 0.8)]

    assert days == sorted(days)
    assert days[0] < days[-1]


def test_a_month_agrees_with_the_share_of_its_years_that_had_a_frost():
    may = air_frost(a_climate())[120:151].sum()
    share = (30 * SHAWBURY_ANY[4] + 0.5) / 31

    assert 1 - np.exp(-may) == pytest.approx(share, abs=0.04)


def test_an_own_file_tells_its_spread_by_itself():
    told = replace(a_climate(), frost_days=(), spread_k=(3.0,) * 12)

    assert spread_ratios(told)[0] == pytest.approx(np.mean([3 / 3.6, 3 / 3.4, 3 / 3.3, 3 / 2.9]))


@pytest.mark.parametrize(("frosts", "ratio"), [((0.0,) * 12, 0.9), ((13.0,) * 12, 1.25)])
def test_a_spread_that_no_month_tells_or_that_is_past_belief_is_the_usual_or_the_widest(
    frosts, ratio
):
    assert spread_ratios(a_climate(frost_days=frosts))[0] == ratio


def test_days_are_numbered_alike_in_leap_years():
    assert day_of(2028, 60) == date(2028, 3, 1)
    assert day_of(2027, 60) == date(2027, 3, 1)


def test_a_climate_without_counted_years_goes_by_its_base_period():
    assert a_climate(base_period="2001-2010").years_behind == 10
    assert a_climate(base_period="2010-2010", years=None).years_behind == 1
    assert a_climate(years=22).years_behind == 22
