from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.domain.weather.nights import night_minima
from exchange.forecasts import open_meteo, open_meteo_limits
from exchange.forecasts.base import ForecastFaultKind
from tests.builders.weather import NOW, a_place
from tests.forecasts.answers import open_meteo as answer
from tests.forecasts.answers import sample


def fetch(httpserver, *places, now=NOW):
    return open_meteo.fetch(
        places or (a_place(),), now, base_url=httpserver.url_for("").rstrip("/")
    )


def serve(httpserver, body, **how):
    httpserver.expect_request("/v1/forecast").respond_with_json(body, **how)


def test_a_forecast_keeps_where_and_when_it_is_from(httpserver):
    serve(httpserver, answer())

    (forecast,) = fetch(httpserver).forecasts

    assert (forecast.place_id, forecast.source) == (1, "Open-Meteo")
    assert forecast.issued_at == forecast.fetched_at == NOW
    assert forecast.expires_at == NOW + timedelta(hours=3)
    assert "Open-Meteo.com" in forecast.attribution
    assert forecast.grid_height_m == 103.0


def test_readings_are_instants_in_utc_with_wind_in_metres_a_second(httpserver):
    serve(httpserver, answer([3.0, 2.5] * 24))

    reading = fetch(httpserver).forecasts[0].readings[1]

    assert reading.at == datetime(2026, 4, 18, 1, tzinfo=UTC)
    assert reading.temperature_c == 2.5
    assert reading.wind_ms == pytest.approx(2.0)
    assert (reading.dew_point_c, reading.cloud_pct) == (1.0, 10.0)


def test_it_asks_in_utc_at_the_height_of_the_place(httpserver):
    serve(httpserver, answer())
    fetch(httpserver)

    asked = httpserver.log[0][0].args
    assert asked["timezone"] == "GMT"
    assert asked["latitude"] == "52.370"
    assert asked["elevation"] == "103"
    assert "daily" not in asked


def test_a_height_nobody_gave_is_not_asked_for(httpserver):
    serve(httpserver, answer())
    fetch(httpserver, a_place(height_m=None))

    assert "elevation" not in httpserver.log[0][0].args


def test_it_names_itself(httpserver):
    serve(httpserver, answer())
    fetch(httpserver)

    assert httpserver.log[0][0].headers["User-Agent"].startswith("growers-circle-exchange/")


def test_several_places_are_paired_by_order(httpserver):
    serve(httpserver, [answer([1.0] * 48), answer([2.0] * 48, latitude=50.37, longitude=-4.14)])
    plymouth = a_place(2, 50.37, -4.14)

    fetched = fetch(httpserver, a_place(), plymouth)

    assert [(f.place_id, f.readings[0].temperature_c) for f in fetched.forecasts] == [
        (1, 1.0),
        (2, 2.0),
    ]


def test_the_written_samples_are_read(httpserver):
    serve(httpserver, sample("openmeteo_single.json"))
    (forecast,) = fetch(httpserver).forecasts

    assert len(forecast.readings) == 23
    assert forecast.lacks == ("the forecast ends earlier than asked",)


def test_no_more_than_fifty_places_are_asked_for_at_once(httpserver):
    places = [a_place(number) for number in range(1, 61)]
    httpserver.expect_ordered_request("/v1/forecast").respond_with_json([answer()] * 50)
    httpserver.expect_ordered_request("/v1/forecast").respond_with_json([answer()] * 10)

    fetched = fetch(httpserver, *places)

    assert [f.place_id for f in fetched.forecasts] == list(range(1, 61))
    assert len(httpserver.log) == 2


def test_after_a_limit_no_further_request_is_made(httpserver):
    serve(httpserver, sample("openmeteo_error_429.json"), status=429)
    places = [a_place(number) for number in range(1, 61)]

    fetched = fetch(httpserver, *places)

    assert len(httpserver.log) == 1
    assert fetched.faults[0].kind is ForecastFaultKind.LIMIT
    assert fetched.faults[0].place_ids == tuple(range(1, 61))
    assert fetched.not_before() == NOW + timedelta(minutes=1)
    assert "Minutely" in fetched.faults[0].sentence


@pytest.mark.parametrize(
    ("reason", "until"),
    [
        ("Minutely API request limit exceeded. Please try again in one minute.", "09:01"),
        ("Hourly API request limit exceeded. Please try again in the next hour.", "10:00"),
        ("Daily API request limit exceeded. Please try again tomorrow.", "00:00"),
        ("Too many concurrent requests", "09:00"),
        ("", "09:10"),
    ],
)
def test_the_wait_is_read_from_the_reason(reason, until):
    wait = open_meteo_limits.back_off(reason, NOW)

    assert wait > NOW
    assert f"{wait:%H:%M}" == until


def test_a_place_in_the_wrong_order_is_no_forecast_for_it(httpserver):
    serve(httpserver, [answer(latitude=50.37, longitude=-4.14), answer()])
    plymouth = a_place(2, 50.37, -4.14)

    fetched = fetch(httpserver, a_place(), plymouth)

    assert fetched.forecasts == ()
    assert [fault.kind for fault in fetched.faults] == [ForecastFaultKind.WRONG_PLACE] * 2


def test_one_broken_place_does_not_take_the_others_with_it(httpserver):
    serve(httpserver, [answer(hourly={}), answer()])

    fetched = fetch(httpserver, a_place(1), a_place(2))

    assert [f.place_id for f in fetched.forecasts] == [2]
    assert fetched.faults[0].place_ids == (1,)


def test_unix_time_is_read_as_it_is(httpserver):
    noon = int(datetime(2026, 4, 18, 12, tzinfo=UTC).timestamp())
    serve(httpserver, answer([4.0] * 24, times=[noon + 3600 * h for h in range(24)]))

    assert fetch(httpserver).forecasts[0].readings[0].at == datetime(2026, 4, 18, 12, tzinfo=UTC)


def test_one_offset_for_the_whole_answer_is_taken_back(httpserver):
    serve(httpserver, answer(offset_s=3600))

    assert fetch(httpserver).forecasts[0].readings[0].at == datetime(2026, 4, 17, 23, tzinfo=UTC)


def test_a_place_the_service_has_nothing_for_does_not_cost_the_others(httpserver):
    nothing = {"error": True, "reason": "No data is available for this location"}
    requests = httpserver.expect_ordered_request
    requests("/v1/forecast").respond_with_json(nothing, status=400)
    requests("/v1/forecast").respond_with_json(answer())
    requests("/v1/forecast").respond_with_json(nothing, status=400)
    requests("/v1/forecast").respond_with_json(nothing, status=400)
    requests("/v1/forecast").respond_with_json(answer())

    fetched = fetch(httpserver, a_place(1), a_place(2), a_place(3))

    assert [f.place_id for f in fetched.forecasts] == [1, 3]
    assert [(f.kind, f.place_ids) for f in fetched.faults] == [
        (ForecastFaultKind.NOT_OFFERED, (2,))
    ]


@pytest.mark.parametrize(
    ("header", "wait"),
    [
        ("120", timedelta(minutes=2)),
        ("Sat, 18 Apr 2026 09:30:00 GMT", timedelta(minutes=30)),
        ("9999999", timedelta(days=1)),
        ("later", timedelta(minutes=5)),
    ],
)
def test_a_stated_wait_is_kept(httpserver, header, wait):
    serve(httpserver, {"error": True}, status=503, headers={"Retry-After": header})

    assert fetch(httpserver).not_before() == NOW + wait


def test_yesterday_is_asked_for_so_that_the_night_under_way_is_whole(httpserver):
    serve(httpserver, answer([5.0] * 26 + [-1.0] + [5.0] * 60, start="2026-04-17T00:00"))
    (forecast,) = fetch(httpserver).forecasts

    assert httpserver.log[0][0].args["past_days"] == "1"
    assert night_minima(forecast.readings, "Europe/London")[date(2026, 4, 17)] == -1.0
