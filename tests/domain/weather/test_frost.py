import math
from datetime import date, timedelta

import pytest

from exchange.domain.weather.climate import at_height
from exchange.domain.weather.frost import _station_hazards, safe_date
from tests.builders.weather import a_climate, chance_of_frost_from


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


def with_july(share):
    """Give a climate whose station has seen an air frost in this share of Julys."""
    shares = list(a_climate().any_frost)
    shares[6] = share
    return a_climate(any_frost=tuple(shares))


def test_each_month_keeps_the_share_of_frosts_its_station_saw():
    seen = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.3, 0.4, 0.5, 0.6)
    nights = [date(2027, 1, 1) + timedelta(days=offset) for offset in range(365)]

    hazards = _station_hazards(seen)

    by_month = [
        sum(hazard for night, hazard in zip(nights, hazards, strict=True) if night.month == month)
        for month in range(1, 13)
    ]
    assert [1 - math.exp(-one) for one in by_month] == pytest.approx(seen)


def test_a_july_without_a_frost_in_thirty_years_is_still_given_one_in_sixty():
    shares = (0.0, 0.016, 0.017)

    chances = [chance_of_frost_from(with_july(share), date(2027, 7, 1)) for share in shares]

    assert chances[0] == pytest.approx(chances[1])
    assert 0.001 < chances[0] < chances[2] < 0.017


def test_a_frost_in_one_july_of_three_puts_the_safe_date_off_into_july():
    safe = [safe_date(with_july(share), 2027).day for share in (0.0, 1 / 3)]

    assert [day.month for day in safe] == [5, 7]
