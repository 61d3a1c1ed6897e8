"""Forecasts come back as they were fetched; the last one of each place is the one that counts."""

from datetime import timedelta

import pytest

from exchange.domain.weather.forecast import Forecast, Reading
from exchange.records import PLACES, circles, forecasts_kept
from exchange.records.tables import ForecastTable
from tests.app_fixtures import NOW

HOUR = timedelta(hours=1)


@pytest.fixture
def places(tx, circle):
    return [one.id for one in PLACES.all(tx, circle.circle_id)]


def a_forecast(place_id, age=0, **said):
    at = NOW - age * HOUR
    usual = {
        "source": "Open-Meteo",
        "issued_at": at - HOUR,
        "fetched_at": at,
        "expires_at": at + 6 * HOUR,
        "attribution": "Open-Meteo",
        "readings": (Reading(NOW, 4.5, 2.0, 3.5, 80.0, 7), Reading(NOW + HOUR, 5.0)),
        "grid_height_m": 60.0,
        "lacks": ("wind",),
        "members": 40,
    }
    return Forecast(place_id=place_id, **(usual | said))


def keep(tx, circle, *forecasts):
    return [forecasts_kept.add(tx, circle.circle_id, one) for one in forecasts]


def test_a_forecast_comes_back_as_it_was_fetched_and_changes_the_facts(tx, circle, places):
    before = circles.get(tx, circle.circle_id).stamp

    keep(tx, circle, a_forecast(places[0]))
    tx._session.expire_all()

    assert forecasts_kept.kept(tx, circle.circle_id, places[0]) == (a_forecast(places[0]),)
    assert circles.get(tx, circle.circle_id).stamp > before


def test_the_forecast_fetched_last_counts_and_of_two_fetched_at_once_the_one_kept_last(
    tx, circle, places
):
    keep(tx, circle, a_forecast(places[0]), a_forecast(places[0], age=3))
    keep(tx, circle, a_forecast(places[1], source="first"), a_forecast(places[1], source="second"))

    latest = forecasts_kept.latest(tx, circle.circle_id)

    assert {place: one.source for place, one in latest.items()} == {
        places[0]: "Open-Meteo",
        places[1]: "second",
    }
    assert latest[places[0]].fetched_at == NOW


def test_only_the_places_asked_for_and_the_circles_own_are_given(tx, circle, other, places):
    keep(tx, circle, *(a_forecast(one) for one in places[:2]))

    assert set(forecasts_kept.latest(tx, circle.circle_id, [places[1]])) == {places[1]}
    assert forecasts_kept.latest(tx, circle.circle_id, []) == {}
    assert forecasts_kept.latest(tx, other.circle_id) == {}
    assert forecasts_kept.latest_heads(tx, other.circle_id) == {}
    assert forecasts_kept.kept(tx, other.circle_id, places[0]) == ()
    assert forecasts_kept.grid_height(tx, other.circle_id, places[0]) is None


def test_a_head_is_the_last_forecast_of_a_place_without_its_readings(tx, circle, places):
    keep(tx, circle, a_forecast(places[0], source="new"), a_forecast(places[0], age=3))
    keep(tx, circle, a_forecast(places[1], age=3, source="elsewhere"))

    heads = forecasts_kept.latest_heads(tx, circle.circle_id)

    assert heads == {
        places[0]: a_forecast(places[0], source="new", readings=(), members=0),
        places[1]: a_forecast(places[1], age=3, source="elsewhere", readings=(), members=0),
    }


def test_the_forecasts_of_a_place_are_given_oldest_first(tx, circle, places):
    keep(tx, circle, *(a_forecast(places[0], age=age) for age in (2, 5, 0)))
    keep(tx, circle, a_forecast(places[1]))

    kept = forecasts_kept.kept(tx, circle.circle_id, places[0])

    assert [(NOW - one.fetched_at) / HOUR for one in kept] == [5, 2, 0]


def test_the_height_is_that_of_the_last_forecast_that_told_one(tx, circle, places):
    keep(
        tx,
        circle,
        a_forecast(places[0], age=3, grid_height_m=30.0),
        a_forecast(places[0], age=2, grid_height_m=40.0),
        a_forecast(places[0], age=5, grid_height_m=20.0),
        a_forecast(places[0], grid_height_m=None),
        a_forecast(places[1], grid_height_m=90.0),
    )

    heights = [forecasts_kept.grid_height(tx, circle.circle_id, one) for one in places]

    assert heights == [40.0, 90.0, None]


def test_of_two_heights_told_at_once_the_one_kept_last_counts(tx, circle, places):
    keep(tx, circle, *(a_forecast(places[0], grid_height_m=height) for height in (30.0, 40.0)))

    assert forecasts_kept.grid_height(tx, circle.circle_id, places[0]) == 40.0


def test_what_was_fetched_before_an_instant_is_forgotten_in_this_circle_only(
    tx, circle, other, places
):
    elsewhere = PLACES.all(tx, other.circle_id)[0].id
    keep(tx, circle, *(a_forecast(places[0], age=age) for age in (0, 2, 3)))
    keep(tx, other, a_forecast(elsewhere, age=9))

    gone = forecasts_kept.forget(tx, circle.circle_id, NOW - 2 * HOUR)

    assert gone == 1
    assert len(forecasts_kept.kept(tx, circle.circle_id, places[0])) == 2
    assert len(forecasts_kept.kept(tx, other.circle_id, elsewhere)) == 1


def test_each_forecast_kept_has_a_number_of_its_own(tx, circle, places):
    first, second = keep(tx, circle, a_forecast(places[0]), a_forecast(places[0]))

    assert first < second


def test_a_forecast_kept_before_members_were_counted_is_read(tx, circle, places):
    (row_id,) = keep(tx, circle, a_forecast(places[0]))
    row = tx._session.get(ForecastTable, row_id)
    row.readings = {name: column for name, column in row.readings.items() if name != "members"}
    tx._session.flush()

    assert forecasts_kept.kept(tx, circle.circle_id, places[0]) == (
        a_forecast(places[0], members=0),
    )
