"""Fetching forecasts: services in turn, waits kept, faults seen, no fault makes a night warmer than usual."""

from dataclasses import replace
from datetime import timedelta

import pytest
from werkzeug import Response

from exchange.actions.weather.forecasts import ALL_KEPT_FOR, KEPT_FOR, fetch_forecasts
from exchange.actions.weather.outlooks import outlooks
from exchange.domain.weather.forecast import WeatherSource
from exchange.forecasts.services import ForecastServices
from exchange.records import FAULTS, forecasts_kept
from tests.app_fixtures import NOW, a_house, both_databases, fresh_database, ring
from tests.builders.weather import a_forecast, hourly
from tests.forecasts import answers

OPEN_METEO = "/v1/forecast"
NORWAY = "/weatherapi/locationforecast/2.0/complete"
START = "2027-04-05T00:00"


@pytest.fixture(params=both_databases)
def circle(request, tmp_path):
    with (
        fresh_database(request.param, tmp_path) as address,
        a_house(tmp_path, address) as house,
    ):
        yield ring(house, members=("Winnie",))


@pytest.fixture
def quick(tmp_path):
    with a_house(tmp_path) as house:
        yield ring(house, members=("Winnie",))


def asking(circle, httpserver, *order, **changes):
    """Give the organiser in a house that asks these services of the test's own server."""
    base = httpserver.url_for("").rstrip("/")
    services = ForecastServices(
        order=order, contact="maud@example.org", open_meteo=base, met_norway=base, **changes
    )
    actor = circle.actor("Winnie")
    return replace(actor, house=replace(actor.house, forecasts=services))


def serve(httpserver, temperatures=(9.0,) * 96):
    body = answers.open_meteo(temperatures, start=START)
    httpserver.expect_request(OPEN_METEO).respond_with_json(body)


def kept(circle):
    with circle.house.books.reading() as tx:
        return forecasts_kept.kept(tx, circle.circle_id, circle.place("Winnie").id)


def nights(circle, now=NOW):
    with circle.house.books.reading() as tx:
        place = circle.place("Winnie").id
        return outlooks(tx, circle.circle_id, now)[place]


def asked(httpserver, path):
    return sum(request.path == path for request, _answer in httpserver.log)


def test_a_forecast_is_kept_and_its_source_told(quick, httpserver):
    serve(httpserver)
    found = fetch_forecasts(asking(quick, httpserver, "open-meteo"), NOW)

    assert (found.places, found.kept, found.faults) == (1, 0, ())
    assert found.sources == {"Open-Meteo": 1}
    assert [one.source for one in kept(quick)] == ["Open-Meteo"]
    assert nights(quick).source is WeatherSource.BOTH


def test_what_is_fresh_is_not_asked_for_and_counts_as_known(quick, httpserver):
    serve(httpserver)
    actor = asking(quick, httpserver, "open-meteo")
    fetch_forecasts(actor, NOW)
    found = fetch_forecasts(actor, NOW + timedelta(minutes=5))

    assert (found.places, found.kept) == (0, 1)
    assert not found.nothing_known
    assert asked(httpserver, OPEN_METEO) == 1


def test_the_next_service_is_asked_where_the_first_fails(quick, httpserver):
    httpserver.expect_request(OPEN_METEO).respond_with_data("", status=503)
    norway = answers.met_norway(start=f"{START}:00+00:00")
    httpserver.expect_request(NORWAY).respond_with_json(norway)

    found = fetch_forecasts(asking(quick, httpserver, "open-meteo", "met-norway"), NOW)

    assert found.sources == {"MET Norway": 1}
    assert len(found.faults) == 1
    assert found.faults[0].startswith("Open-Meteo:")


def test_a_service_that_asked_us_to_wait_is_left_alone_even_when_asked_again(quick, httpserver):
    httpserver.expect_request(OPEN_METEO).respond_with_json(
        {"error": True, "reason": "Hourly API request limit exceeded."}, status=429
    )
    actor = asking(quick, httpserver, "open-meteo")
    first = fetch_forecasts(actor, NOW)
    second = fetch_forecasts(actor, NOW + timedelta(minutes=1), again=True)

    assert first.nothing_known
    assert second.nothing_known
    assert asked(httpserver, OPEN_METEO) == 1
    assert "asked us to wait until" in second.faults[0]


def test_while_one_waits_the_next_is_asked_in_its_place(quick, httpserver):
    httpserver.expect_request(OPEN_METEO).respond_with_json(
        {"error": True, "reason": "Daily API request limit exceeded."}, status=429
    )
    norway = answers.met_norway(start=f"{START}:00+00:00")
    httpserver.expect_request(NORWAY).respond_with_json(norway)
    fetch_forecasts(asking(quick, httpserver, "open-meteo"), NOW)

    found = fetch_forecasts(asking(quick, httpserver, "open-meteo", "met-norway"), NOW)

    assert found.sources == {"MET Norway": 1}
    assert asked(httpserver, OPEN_METEO) == 1


def test_a_forecast_that_still_stands_is_renewed_and_not_kept_twice(quick, httpserver):
    norway = answers.met_norway(start=f"{START}:00+00:00")
    headers = {
        "Last-Modified": "Mon, 05 Apr 2027 08:00:00 GMT",
        "Expires": "Mon, 05 Apr 2027 09:30:00 GMT",
    }
    since = {"If-Modified-Since": headers["Last-Modified"]}
    later = Response(status=304, headers={"Expires": "Mon, 05 Apr 2027 12:00:00 GMT"})
    httpserver.expect_request(NORWAY, headers=since).respond_with_response(later)
    httpserver.expect_request(NORWAY).respond_with_json(norway, headers=headers)
    actor = asking(quick, httpserver, "met-norway")
    fetch_forecasts(actor, NOW)

    found = fetch_forecasts(actor, NOW + timedelta(hours=1))

    (forecast,) = kept(quick)
    assert found.places == 1
    assert forecast.fetched_at == NOW + timedelta(hours=1)
    assert forecast.expires_at.hour == 12


@pytest.mark.parametrize(
    "answer",
    [
        Response(status=500),
        Response("<html>", content_type="text/html"),
        Response('{"latitude": 52.3', content_type="application/json"),
        Response("[]", content_type="application/json"),
    ],
    ids=["500", "a page", "half a body", "empty"],
)
def test_a_fault_of_a_source_makes_no_night_warmer_than_usual(quick, httpserver, answer):
    usual = nights(quick)
    httpserver.expect_request(OPEN_METEO).respond_with_response(answer)

    found = fetch_forecasts(asking(quick, httpserver, "open-meteo"), NOW)
    after = nights(quick)

    assert found.nothing_known
    assert found.faults
    assert after.source is WeatherSource.CLIMATE
    assert [one.mean_c for one in after.nights] == [one.mean_c for one in usual.nights]
    with quick.house.books.reading() as tx:
        assert [one.what for one in FAULTS.all(tx, quick.circle_id)] == list(found.faults)


def test_a_saved_file_that_is_not_there_is_said(quick, httpserver):
    actor = asking(quick, httpserver, saved_file="/nowhere/forecast.json")
    found = fetch_forecasts(actor, NOW)

    assert found.nothing_known
    assert "could not be opened" in found.faults[0]


def test_of_days_gone_by_the_first_forecast_is_kept_and_after_the_season_none(circle, httpserver):
    place = circle.place("Winnie").id
    old = NOW - ALL_KEPT_FOR - timedelta(days=3)
    gone = [NOW - KEPT_FOR - timedelta(days=1), *(old + timedelta(hours=h) for h in (6, 12))]
    recent = [NOW - timedelta(hours=h) for h in (12, 6, 1)]
    with circle.house.books.writing() as tx:
        for at in [old, *gone, *recent]:
            one = a_forecast(hourly([5.0] * 30), place_id=place, issued_at=at)
            forecasts_kept.add(tx, circle.circle_id, one)
    serve(httpserver)

    fetch_forecasts(asking(circle, httpserver, "open-meteo"), NOW, again=True)

    assert [one.fetched_at for one in kept(circle)] == [old, *recent, NOW]
