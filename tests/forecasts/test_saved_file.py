import json
from datetime import UTC, datetime

from exchange.forecasts import saved_file
from exchange.forecasts.base import ForecastFaultKind
from tests.builders.weather import NOW, a_place
from tests.forecasts.answers import open_meteo as answer


def a_file(tmp_path, body):
    path = tmp_path / "forecast.json"
    path.write_text(body if isinstance(body, str) else json.dumps(body), encoding="utf-8")
    return path


def test_each_place_takes_the_object_nearest_to_it(tmp_path):
    body = [answer([1.0] * 48, latitude=50.37, longitude=-4.14), answer([2.0] * 48)]
    places = (a_place(1), a_place(2, 50.4, -4.1), a_place(3, 52.4, -2.7))

    fetched = saved_file.fetch(places, NOW, path=a_file(tmp_path, body))

    assert [f.readings[0].temperature_c for f in fetched.forecasts] == [2.0, 1.0, 2.0]
    assert {f.source for f in fetched.forecasts} == {"saved file"}


def test_a_single_object_serves_as_well(tmp_path):
    fetched = saved_file.fetch((a_place(),), NOW, path=a_file(tmp_path, answer()))

    assert len(fetched.forecasts) == 1


def test_the_first_hour_stands_for_the_issue(tmp_path):
    fetched = saved_file.fetch((a_place(),), NOW, path=a_file(tmp_path, answer()))

    assert fetched.forecasts[0].issued_at == datetime(2026, 4, 18, tzinfo=UTC)


def test_a_place_far_from_all_of_them_stands_in_a_fault(tmp_path):
    fetched = saved_file.fetch((a_place(7, 57.0, -3.4),), NOW, path=a_file(tmp_path, answer()))

    assert fetched.forecasts == ()
    assert fetched.faults[0].kind is ForecastFaultKind.WRONG_PLACE
    assert fetched.faults[0].place_ids == (7,)


def test_a_file_that_is_not_there_or_not_json_is_a_fault(tmp_path):
    missing = saved_file.fetch((a_place(),), NOW, path=tmp_path / "none.json")
    broken = saved_file.fetch((a_place(),), NOW, path=a_file(tmp_path, '{"latitude": 5'))
    empty = saved_file.fetch((a_place(),), NOW, path=a_file(tmp_path, []))

    assert [f.faults[0].kind for f in (missing, broken, empty)] == [
        ForecastFaultKind.NO_FILE,
        ForecastFaultKind.UNREADABLE,
        ForecastFaultKind.UNREADABLE,
    ]
    assert missing.faults[0].sentence == "saved file: The saved forecast could not be opened."


def test_an_old_file_is_out_of_date(tmp_path):
    body = answer(start="2026-03-01T00:00")
    fetched = saved_file.fetch((a_place(),), NOW, path=a_file(tmp_path, body))

    assert fetched.faults[0].kind is ForecastFaultKind.OUT_OF_DATE
