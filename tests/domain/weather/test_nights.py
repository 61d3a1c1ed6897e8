from datetime import UTC, date, datetime

import pytest

from exchange.domain.weather.nights import day_highs, night_bounds, night_minima
from tests.builders.weather import hourly

APRIL_18 = date(2026, 4, 18)


def test_a_night_runs_from_noon_to_noon_in_the_zone_of_the_place():
    start, end = night_bounds(APRIL_18, "Europe/London")

    assert start == datetime(2026, 4, 18, 11, tzinfo=UTC)
    assert end == datetime(2026, 4, 19, 11, tzinfo=UTC)


def test_nights_of_the_clock_change_have_23_and_25_hours():
    spring = night_bounds(date(2026, 3, 28), "Europe/London")
    autumn = night_bounds(date(2026, 10, 24), "Europe/London")

    assert (spring[1] - spring[0]).total_seconds() == 23 * 3600
    assert (autumn[1] - autumn[0]).total_seconds() == 25 * 3600


def test_a_frost_before_midnight_belongs_to_the_night_that_began_that_noon():
    readings = hourly([5.0] * 23 + [-2.0] + [5.0] * 30)

    assert night_minima(readings, "Europe/London") == {APRIL_18: -2.0}


def test_the_same_instants_make_other_nights_in_another_zone():
    readings = hourly([5.0] * 16 + [-2.0] + [5.0] * 60)

    london = night_minima(readings, "Europe/London")
    auckland = night_minima(readings, "Pacific/Auckland")

    assert london[APRIL_18] == -2.0
    assert auckland[APRIL_18] == -2.0  # 04:00 there on the 19th
    assert date(2026, 4, 17) not in london


def test_all_of_a_long_autumn_night_counts():
    start = datetime(2026, 10, 24, 11, tzinfo=UTC)
    readings = hourly([5.0] * 24 + [-1.0] + [5.0] * 10, start=start)

    assert night_minima(readings, "Europe/London")[date(2026, 10, 24)] == -1.0


@pytest.mark.parametrize("hour", [0, 1, 13, 22, 23])
def test_a_night_of_which_one_hour_is_missing_is_not_named(hour):
    temperatures = [5.0] * 11 + [2.0] * 24
    whole = hourly(temperatures)
    temperatures[11 + hour] = None

    readings = hourly(temperatures)

    assert night_minima(whole, "Europe/London") == {APRIL_18: 2.0}
    assert night_minima(readings, "Europe/London") == {}
    assert night_minima(readings, "Europe/London", whole=False)[APRIL_18] == 2.0


def test_where_noon_falls_on_a_half_hour_the_night_is_whole_with_the_full_hours_between():
    readings = hourly([5.0] * 7 + [2.0] * 24)  # noon in India is 06:30 UTC

    assert night_minima(readings, "Asia/Kolkata") == {APRIL_18: 2.0}
    assert night_minima(readings[:-1], "Asia/Kolkata") == {}


def test_of_a_night_under_way_the_hours_past_do_not_count_up_to_ten():
    evening = hourly([3.0] * 15, start=datetime(2026, 4, 18, 20, tzinfo=UTC))
    midnight = hourly([3.0] * 12, start=datetime(2026, 4, 18, 23, tzinfo=UTC))

    assert night_minima(evening, "Europe/London", fetched_at=evening[0].at) == {APRIL_18: 3.0}
    assert night_minima(midnight, "Europe/London", fetched_at=midnight[0].at) == {}


def test_hours_that_were_still_to_come_when_it_was_fetched_do_count():
    readings = hourly([3.0] * 15, start=datetime(2026, 4, 18, 20, tzinfo=UTC))
    an_hour_before, longer_before = datetime(2026, 4, 18, 19), datetime(2026, 4, 18, 18, 59)

    assert night_minima(readings, "Europe/London", fetched_at=an_hour_before.replace(tzinfo=UTC))
    assert not night_minima(readings, "Europe/London", fetched_at=longer_before.replace(tzinfo=UTC))


def test_of_an_hour_given_twice_the_colder_counts():
    readings = (*hourly([5.0] * 40), *hourly([-3.0], start=datetime(2026, 4, 19, 3, tzinfo=UTC)))

    assert night_minima(readings, "Europe/London")[APRIL_18] == -3.0


def test_ensemble_members_are_kept_apart():
    readings = (*hourly([5.0] * 40), *hourly([1.0] * 40, member=3))

    assert night_minima(readings, "Europe/London")[APRIL_18] == 5.0
    assert night_minima(readings, "Europe/London", member=3)[APRIL_18] == 1.0


def test_the_high_of_a_day_needs_its_afternoon():
    readings = hourly([5.0] * 13 + [14.0] + [5.0] * 20)

    assert day_highs(readings, "Europe/London") == {APRIL_18: 14.0}
