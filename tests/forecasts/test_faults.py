"""Twenty faults of a source: each is seen, no place is lost, and none makes a night warmer.

The true forecast served here is milder than usual, so that a fault which let it through unseen, or
hid its cold night, would show as a night warmer than both the true forecast and the climate.
"""

import time
from datetime import date, timedelta

import pytest
from werkzeug import Response

from exchange.domain.weather.outlook import outlook
from exchange.forecasts import met_norway, open_meteo
from exchange.forecasts.base import ForecastFaultKind
from exchange.forecasts.http import Asking
from tests.builders.weather import NOW, Pin, a_climate, a_forecast, a_place, hourly
from tests.forecasts import answers
from tests.forecasts.answers import open_meteo as answer

TONIGHT = date(2026, 4, 18)
MILD = [9.0] * 96
COLD_NIGHT = [9.0] * 20 + [-2.0] * 10 + [9.0] * 66
PATH = "/v1/forecast"
NORWAY = "/weatherapi/locationforecast/2.0/complete"


def nights(forecast):
    seen = outlook(Pin(), forecast, a_climate(), (TONIGHT, 5), NOW)
    return [night.mean_c for night in seen.nights]


USUAL = nights(None)


def clean(temperatures):
    return nights(a_forecast(hourly(temperatures), grid_height_m=103.0))


def ask(httpserver, *, timeout_s=5.0):
    base = httpserver.url_for("").rstrip("/")
    return open_meteo.fetch((a_place(),), NOW, base_url=base, asking=Asking(timeout_s=timeout_s))


def ask_norway(httpserver, known=None):
    base = httpserver.url_for("").rstrip("/")
    asking = Asking(contact="organiser@example.org")
    return met_norway.fetch((a_place(),), NOW, base_url=base, asking=asking, known=known)


def is_seen(fetched):
    return bool(fetched.faults) or any(forecast.lacks for forecast in fetched.forecasts)


def nothing_is_lost(fetched):
    named = [forecast.place_id for forecast in fetched.forecasts]
    named += [place_id for fault in fetched.faults for place_id in fault.place_ids]
    return named == [1]


def nothing_is_warmer(fetched, temperatures=MILD):
    got = nights(fetched.forecasts[0] if fetched.forecasts else None)
    limits = [max(pair) for pair in zip(clean(temperatures), USUAL, strict=True)]
    return all(mean <= limit + 1e-9 for mean, limit in zip(got, limits, strict=True))


def slow(_request):
    time.sleep(0.6)
    return Response("{}", content_type="application/json")


HALF = '{"latitude": 52.36, "longitude": -2.72, "hourly": {"time": ["2026-04-18T00:00", "2026-0'

REFUSED = [
    ("400", {"response_json": answers.sample("openmeteo_error_400.json"), "status": 400}),
    ("429", {"response_json": answers.sample("openmeteo_error_429.json"), "status": 429}),
    ("500", {"response_data": "Internal Server Error", "status": 500}),
    ("503", {"response_json": {"error": True, "reason": "overloaded"}, "status": 503}),
    ("html", {"response_data": "<html><body>Hello</body></html>"}),
    ("half a body", {"response_data": HALF}),
    ("missing keys", {"response_json": answer(MILD, hourly_units={})}),
    ("no hours", {"response_json": answer(MILD, hourly={"time": []})}),
    ("no place", {"response_json": {"hourly": answer(MILD)["hourly"]}}),
    ("wrong units", {"response_json": answer(MILD, unit="°F")}),
    ("grid far away", {"response_json": answer(MILD, latitude=43.0)}),
    ("stale", {"response_json": answer(MILD, start="2026-04-10T00:00")}),
    ("future", {"response_json": answer(MILD, start="2026-04-28T00:00")}),
    ("empty list", {"response_json": []}),
    ("empty object", {"response_json": {}}),
    ("only nulls", {"response_json": answer([None] * 96)}),
    ("not a number", {"response_json": answer(["warm"] * 96)}),
]

KINDS = {
    "400": ForecastFaultKind.REFUSED,
    "429": ForecastFaultKind.LIMIT,
    "500": ForecastFaultKind.OVERLOADED,
    "503": ForecastFaultKind.OVERLOADED,
    "html": ForecastFaultKind.UNREADABLE,
    "half a body": ForecastFaultKind.UNREADABLE,
    "missing keys": ForecastFaultKind.WRONG_UNITS,
    "no hours": ForecastFaultKind.INCOMPLETE,
    "no place": ForecastFaultKind.INCOMPLETE,
    "wrong units": ForecastFaultKind.WRONG_UNITS,
    "grid far away": ForecastFaultKind.WRONG_PLACE,
    "stale": ForecastFaultKind.OUT_OF_DATE,
    "future": ForecastFaultKind.OUT_OF_DATE,
    "empty list": ForecastFaultKind.UNREADABLE,
    "empty object": ForecastFaultKind.INCOMPLETE,
    "only nulls": ForecastFaultKind.INCOMPLETE,
    "not a number": ForecastFaultKind.INCOMPLETE,
}


@pytest.mark.parametrize(("name", "how"), REFUSED, ids=[name for name, _how in REFUSED])
def test_an_answer_that_cannot_be_used_leaves_climate_and_is_seen(httpserver, name, how):
    how = dict(how)
    request = httpserver.expect_request(PATH)
    if "response_json" in how:
        request.respond_with_json(**how)
    else:
        request.respond_with_data(**how)

    fetched = ask(httpserver)

    assert [fault.kind for fault in fetched.faults] == [KINDS[name]]
    assert fetched.faults[0].sentence.startswith("Open-Meteo: ")
    assert nothing_is_lost(fetched)
    assert fetched.forecasts == ()


def test_a_time_out_is_seen(httpserver):
    httpserver.expect_request(PATH).respond_with_handler(slow)

    fetched = ask(httpserver, timeout_s=0.2)

    assert fetched.faults[0].kind is ForecastFaultKind.TOO_SLOW
    assert fetched.not_before() == NOW + timedelta(minutes=10)
    assert nothing_is_lost(fetched)


def test_a_server_that_is_not_there_is_seen():
    fetched = open_meteo.fetch((a_place(),), NOW, base_url="http://127.0.0.1:9")

    assert fetched.faults[0].kind is ForecastFaultKind.UNREACHABLE
    assert nothing_is_lost(fetched)


def test_a_redirect_is_followed_and_an_endless_one_is_seen(httpserver):
    elsewhere = httpserver.url_for("/elsewhere")
    httpserver.expect_oneshot_request(PATH).respond_with_response(
        Response(status=302, headers={"Location": elsewhere})
    )
    httpserver.expect_oneshot_request("/elsewhere").respond_with_json(answer(MILD))
    followed = ask(httpserver)
    httpserver.expect_request(PATH).respond_with_response(
        Response(status=302, headers={"Location": httpserver.url_for(PATH)})
    )
    endless = ask(httpserver)

    assert nights(followed.forecasts[0]) == clean(MILD)
    assert endless.faults[0].kind is ForecastFaultKind.UNREACHABLE
    assert nothing_is_lost(endless)


@pytest.mark.parametrize("missing", [range(40, 96), range(26, 34), range(60, 70)])
def test_nulls_are_seen_and_their_nights_are_as_usual(httpserver, missing):
    temperatures = [None if hour in missing else 9.0 for hour in range(96)]
    httpserver.expect_request(PATH).respond_with_json(answer(temperatures))

    fetched = ask(httpserver)

    assert is_seen(fetched)
    assert nothing_is_lost(fetched)
    assert nothing_is_warmer(fetched)
    assert nights(fetched.forecasts[0]) != clean(MILD)


def test_nulls_that_hide_a_frost_leave_the_night_as_usual_not_mild(httpserver):
    hidden = [None if 20 <= hour < 30 else value for hour, value in enumerate(COLD_NIGHT)]
    httpserver.expect_request(PATH).respond_with_json(answer(hidden))

    fetched = ask(httpserver)

    assert is_seen(fetched)
    assert nights(fetched.forecasts[0])[0] == USUAL[0]


def test_the_clock_change_moves_no_hour_from_one_night_to_another(httpserver):
    # 10:00 UTC on the last Saturday of October is eleven by British summer time, so it belongs to
    # the night before; a day later the same hour would be ten
    start = "2026-10-24T00:00"
    late = [9.0] * 10 + [-4.0] + [9.0] * 61
    httpserver.expect_request(PATH).respond_with_json(answer(late, start=start))
    now = NOW.replace(month=10, day=24, hour=1)

    fetched = open_meteo.fetch((a_place(),), now, base_url=httpserver.url_for("").rstrip("/"))

    seen = outlook(Pin(), fetched.forecasts[0], a_climate(), (date(2026, 10, 23), 3), now)
    assert seen.nights[0].mean_c < seen.nights[1].mean_c
    assert nothing_is_lost(fetched)


def test_hours_given_twice_are_seen_and_the_colder_counts(httpserver):
    times = answer(COLD_NIGHT)["hourly"]["time"]
    twice = answer(COLD_NIGHT + [9.0] * 10, times=times + times[20:30])
    httpserver.expect_request(PATH).respond_with_json(twice)

    fetched = ask(httpserver)

    assert any("twice" in lack for lack in fetched.forecasts[0].lacks)
    assert nights(fetched.forecasts[0]) == clean(COLD_NIGHT)


def test_hours_in_the_wrong_order_are_seen_and_put_right(httpserver):
    times = answer(COLD_NIGHT)["hourly"]["time"]
    body = answer(COLD_NIGHT[::-1], times=times[::-1])
    httpserver.expect_request(PATH).respond_with_json(body)

    fetched = ask(httpserver)

    assert any("order" in lack for lack in fetched.forecasts[0].lacks)
    assert nights(fetched.forecasts[0]) == clean(COLD_NIGHT)


def test_places_in_the_wrong_order_are_seen(httpserver):
    body = [answer(MILD, latitude=57.0), answer(MILD)]
    httpserver.expect_request(PATH).respond_with_json(body)
    base = httpserver.url_for("").rstrip("/")

    fetched = open_meteo.fetch((a_place(1), a_place(2, 57.0)), NOW, base_url=base)

    assert [fault.kind for fault in fetched.faults] == [ForecastFaultKind.WRONG_PLACE] * 2
    assert fetched.forecasts == ()


def test_fahrenheit_under_the_name_of_celsius_is_not_believed(httpserver):
    httpserver.expect_request(PATH).respond_with_json(answer([48.2] * 96))

    fetched = ask(httpserver)

    assert nights(fetched.forecasts[0]) == USUAL


def test_a_203_is_used_and_seen(httpserver):
    httpserver.expect_request(NORWAY).respond_with_json(answers.met_norway(MILD), status=203)

    fetched = ask_norway(httpserver)

    assert is_seen(fetched)
    assert nothing_is_lost(fetched)


def test_a_304_without_a_body_keeps_what_was_known(httpserver):
    httpserver.expect_request(NORWAY).respond_with_data("", status=304)
    known = a_forecast(hourly(COLD_NIGHT), source="MET Norway", expires_at=NOW)

    fetched = ask_norway(httpserver, {1: known})

    assert fetched.forecasts[0].readings == known.readings
    assert nothing_is_lost(fetched)


def test_a_304_with_nothing_known_is_seen(httpserver):
    httpserver.expect_request(NORWAY).respond_with_data("", status=304)

    fetched = ask_norway(httpserver)

    assert fetched.faults[0].kind is ForecastFaultKind.UNREADABLE
    assert nothing_is_lost(fetched)
