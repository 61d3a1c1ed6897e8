from datetime import timedelta

from exchange.forecasts.freshness import is_due
from tests.builders.weather import NOW, a_forecast, hourly


def kept(place_id=11, **changes):
    return a_forecast(hourly([1.0]), place_id=place_id, **changes)


def test_a_place_without_a_forecast_is_due():
    assert is_due(None, NOW)


def test_a_forecast_is_kept_until_it_expires():
    assert not is_due(kept(), NOW + timedelta(hours=2, minutes=59))
    assert is_due(kept(), NOW + timedelta(hours=3))


def test_places_fall_due_some_minutes_apart():
    at = NOW + timedelta(hours=3)

    assert is_due(kept(11), at)
    assert not is_due(kept(5), at)
    assert is_due(kept(5), at + timedelta(minutes=5))


def test_a_wish_to_wait_is_kept():
    assert not is_due(None, NOW, not_before=NOW + timedelta(minutes=1))
    assert is_due(None, NOW, not_before=NOW)
