from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.domain.weather.nights import night_minima
from exchange.forecasts import met_norway
from exchange.forecasts.base import ForecastFaultKind
from exchange.forecasts.http import Asking
from tests.builders.weather import NOW, a_forecast, a_place, hourly
from tests.forecasts.answers import met_norway as answer
from tests.forecasts.answers import sample

PATH = "/weatherapi/locationforecast/2.0/complete"
HEADERS = {
    "Expires": "Sat, 18 Apr 2026 09:31:12 GMT",
    "Last-Modified": "Sat, 18 Apr 2026 08:41:57 GMT",
}
ASKING = Asking(contact="organiser@example.org")


def fetch(httpserver, *places, known=None, asking=ASKING):
    return met_norway.fetch(
        places or (a_place(),),
        NOW,
        base_url=httpserver.url_for("").rstrip("/"),
        asking=asking,
        known=known,
    )


def serve(httpserver, body=None, **how):
    how = {"headers": HEADERS} | how
    httpserver.expect_request(PATH).respond_with_json(body or answer(), **how)


def kept(**changes):
    values = {
        "source": "MET Norway",
        "issued_at": datetime(2026, 4, 18, 6, 0, 5, tzinfo=UTC),
        "expires_at": NOW - timedelta(minutes=1),
    } | changes
    return a_forecast(hourly([1.0] * 60), **values)


def test_expiry_and_issue_are_the_services_own(httpserver):
    serve(httpserver)

    (forecast,) = fetch(httpserver).forecasts

    assert forecast.issued_at == datetime(2026, 4, 18, 8, 41, 57, tzinfo=UTC)
    assert forecast.expires_at == datetime(2026, 4, 18, 9, 31, 12, tzinfo=UTC)
    assert forecast.regressed
    assert "MET Norway" in forecast.attribution


def test_it_asks_with_a_contact_and_few_decimals(httpserver):
    serve(httpserver)
    fetch(httpserver, a_place(latitude=52.3701234, longitude=-2.7198765))

    request = httpserver.log[0][0]
    assert request.headers["User-Agent"].endswith("organiser@example.org")
    assert request.args["lat"] == "52.370"
    assert request.args["lon"] == "-2.720"
    assert request.args["altitude"] == "103"


def test_without_a_contact_nothing_is_asked(httpserver):
    fetched = fetch(httpserver, asking=Asking())

    assert fetched.faults[0].kind is ForecastFaultKind.NO_CONTACT
    assert httpserver.log == []


def test_before_it_expires_nothing_is_asked(httpserver):
    fresh = kept(expires_at=NOW + timedelta(minutes=5))

    fetched = fetch(httpserver, known={1: fresh})

    assert fetched.forecasts == (fresh,)
    assert httpserver.log == []


def test_afterwards_it_asks_whether_anything_is_newer(httpserver):
    httpserver.expect_request(PATH).respond_with_data(status=304, headers=HEADERS)

    (forecast,) = fetch(httpserver, known={1: kept()}).forecasts

    asked = httpserver.log[0][0].headers["If-Modified-Since"]
    assert asked == "Sat, 18 Apr 2026 06:00:05 GMT"
    assert forecast.readings == kept().readings
    assert forecast.issued_at == kept().issued_at
    assert forecast.expires_at == datetime(2026, 4, 18, 9, 31, 12, tzinfo=UTC)


def test_a_forecast_of_another_service_is_not_asked_about(httpserver):
    serve(httpserver)
    fetch(httpserver, known={1: replace(kept(), source="Open-Meteo")})

    assert "If-Modified-Since" not in httpserver.log[0][0].headers


def test_an_old_version_is_used_and_said(httpserver):
    serve(httpserver, status=203)

    assert any("end soon" in lack for lack in fetch(httpserver).forecasts[0].lacks)


@pytest.mark.parametrize(
    ("status", "kind"), [(429, ForecastFaultKind.LIMIT), (403, ForecastFaultKind.REFUSED)]
)
def test_when_throttled_or_refused_it_stops_at_once(httpserver, status, kind):
    httpserver.expect_request(PATH).respond_with_data("<html>no</html>", status=status)

    fetched = fetch(httpserver, a_place(1), a_place(2), a_place(3))

    assert len(httpserver.log) == 1
    assert fetched.faults[0].kind is kind
    assert fetched.faults[0].place_ids == (1, 2, 3)


@pytest.mark.parametrize("status", [404, 422])
def test_a_place_outside_its_area_does_not_stop_the_others(httpserver, status):
    httpserver.expect_ordered_request(PATH).respond_with_data("", status=status)
    httpserver.expect_ordered_request(PATH).respond_with_json(answer(), headers=HEADERS)

    fetched = fetch(httpserver, a_place(1), a_place(2))

    assert fetched.faults[0].kind is ForecastFaultKind.NOT_OFFERED
    assert [forecast.place_id for forecast in fetched.forecasts] == [2]


def test_steps_of_six_hours_become_hours_with_the_stated_minimum(httpserver):
    minima = [8, 8, 3, 0.5, 2, 8]
    serve(httpserver, answer([8.0, 9.0, 9.0, 3.0, 2.0, 8.0, 9.0], step_h=6, minima=minima))

    (forecast,) = fetch(httpserver).forecasts

    assert len(forecast.readings) == 37
    assert night_minima(forecast.readings, "Europe/London") == {date(2026, 4, 18): 0.5}
    assert min(reading.temperature_c for reading in forecast.readings) == 0.5
    assert any("six hours" in lack for lack in forecast.lacks)


def test_a_stated_minimum_never_warms_an_hour(httpserver):
    serve(httpserver, answer([5.0, 1.0, 5.0] * 8, minima=[4.0] * 24))

    temperatures = {reading.temperature_c for reading in fetch(httpserver).forecasts[0].readings}
    assert min(temperatures) == 1.0


def test_where_no_minimum_is_stated_the_hours_between_are_missing_not_mild(httpserver):
    body = answer([8.0, 9.0, 9.0, 3.0, 2.0, 8.0, 9.0], step_h=6, minima=[8, 8, 3, None, 2, 8])
    serve(httpserver, body)

    (forecast,) = fetch(httpserver).forecasts

    assert len(forecast.readings) == 32
    assert night_minima(forecast.readings, "Europe/London") == {}
    assert any("lowest temperatures of some six hours are missing" in one for one in forecast.lacks)


def test_minima_in_an_undefined_unit_are_not_used(httpserver):
    units = {"air_temperature": "celsius", "air_temperature_min": "undefined"}
    serve(httpserver, answer([8.0, 3.0] * 4, step_h=6, minima=[-40.0] * 8, units=units))

    (forecast,) = fetch(httpserver).forecasts

    assert [reading.temperature_c for reading in forecast.readings] == [8.0, 3.0] * 4


def test_it_tells_how_far_the_point_answered_for_lies(httpserver):
    serve(httpserver, answer(latitude=52.47))

    assert fetch(httpserver).forecasts[0].grid_km == pytest.approx(11.1)


def test_the_written_samples_are_read(httpserver):
    serve(httpserver, sample("metno_complete.json"))

    fetched = met_norway.fetch(
        (a_place(),),
        datetime(2026, 4, 17, 20, 30, tzinfo=UTC),
        base_url=httpserver.url_for("").rstrip("/"),
        asking=ASKING,
    )

    assert fetched.faults == ()
    assert fetched.forecasts[0].readings[0].temperature_c == 6.4
    assert min(r.temperature_c for r in fetched.forecasts[0].readings) <= 1.0
