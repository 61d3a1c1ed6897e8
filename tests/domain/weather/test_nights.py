from datetime import UTC, date, datetime

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


def test_a_night_with_less_than_four_fifths_of_its_hours_is_not_named():
    whole = hourly([5.0] * 11 + [2.0] * 20)
    short = hourly([5.0] * 11 + [2.0] * 19)

    assert night_minima(whole, "Europe/London") == {APRIL_18: 2.0}
    assert night_minima(short, "Europe/London") == {}


def test_a_gap_that_could_hide_the_coldest_hour_leaves_the_night_unnamed():
    temperatures = [5.0] * 40
    temperatures[26:29] = [None] * 3

    readings = hourly(temperatures)

    assert night_minima(readings, "Europe/London") == {}
    assert night_minima(readings, "Europe/London", whole=False)[APRIL_18] == 5.0


def test_a_night_under_way_counts_from_its_first_reading_if_that_is_before_ten():
    evening = hourly([3.0] * 15, start=datetime(2026, 4, 18, 20, tzinfo=UTC))
    midnight = hourly([3.0] * 12, start=datetime(2026, 4, 18, 23, tzinfo=UTC))

    assert night_minima(evening, "Europe/London") == {APRIL_18: 3.0}
    assert night_minima(midnight, "Europe/London") == {}


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
