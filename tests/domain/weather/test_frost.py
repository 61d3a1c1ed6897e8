from datetime import date, timedelta

from exchange.domain.weather.climate import at_height
from exchange.domain.weather.frost import safe_date
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
