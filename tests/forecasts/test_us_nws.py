from datetime import UTC, datetime, timedelta

import pytest

from exchange.forecasts import us_nws
from exchange.forecasts.base import ForecastFaultKind
from exchange.forecasts.http import Asking
from tests.builders.weather import NOW, a_place
from tests.forecasts.answers import sample, us_grid

GRID = "/gridpoints/PQR/114,91"
ASKING = Asking(contact="organiser@example.org")


def canby(place_id=1, **changes):
    values = {"country": "US", "subdivision": "OR", "zone": "America/Los_Angeles"} | changes
    return a_place(place_id, 45.263, -122.693, **values)


def fetch(httpserver, *places, now=NOW):
    return us_nws.fetch(
        places or (canby(),), now, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )


def serve(httpserver, grid, **how):
    httpserver.expect_request("/points/45.263,-122.693").respond_with_json(
        sample("nws_points.json")
    )
    httpserver.expect_request(GRID).respond_with_json(grid, **how)


def test_merged_spans_become_hours(httpserver):
    spans = [("2026-04-18T09:00:00+00:00/PT3H", 4.0), ("2026-04-18T12:00:00+00:00/P1DT2H", 6.0)]
    serve(httpserver, us_grid(spans))

    (forecast,) = fetch(httpserver).forecasts

    assert len(forecast.readings) == 29
    assert forecast.readings[0].at == datetime(2026, 4, 18, 9, tzinfo=UTC)
    assert [r.temperature_c for r in forecast.readings[:4]] == [4.0, 4.0, 4.0, 6.0]
    assert forecast.issued_at == datetime(2026, 4, 18, 8, tzinfo=UTC)
    assert forecast.grid_height_m == 51.8


def test_a_stated_night_minimum_lowers_the_coldest_hour(httpserver):
    spans = [("2026-04-18T09:00:00+00:00/PT24H", 4.0)]
    serve(httpserver, us_grid(spans, minima=[("2026-04-19T03:00:00+00:00/PT13H", -1.0)]))

    temperatures = [r.temperature_c for r in fetch(httpserver).forecasts[0].readings]

    assert temperatures.count(-1.0) == 1
    assert max(temperatures) == 4.0


def test_the_written_sample_is_read_with_its_missing_hour(httpserver):
    serve(httpserver, sample("nws_gridpoint.json"))

    fetched = fetch(httpserver, now=datetime(2026, 4, 18, 6, tzinfo=UTC))

    (forecast,) = fetched.forecasts
    assert [r.temperature_c for r in forecast.readings] == [4.4, 4.4, 3.3, 0.6, 1.1, 1.1]
    assert forecast.readings[0].wind_ms == pytest.approx(3.7 / 3.6)
    assert forecast.readings[0].dew_point_c == 1.7


def test_the_detail_of_an_error_is_passed_on_and_soon_tried_again(httpserver):
    serve(httpserver, sample("nws_error_500.json"), status=500)

    fault = fetch(httpserver).faults[0]

    assert fault.kind is ForecastFaultKind.OVERLOADED
    assert "An unexpected problem has occurred" in fault.sentence
    assert fault.not_before == NOW + timedelta(seconds=30)


def test_places_elsewhere_are_not_offered_and_not_asked_for(httpserver):
    fetched = fetch(httpserver, a_place())

    assert fetched.faults[0].kind is ForecastFaultKind.NOT_OFFERED
    assert httpserver.log == []


def test_an_implausible_figure_is_left_out(httpserver):
    spans = [("2026-04-18T09:00:00+00:00/PT3H", 4300.0), ("2026-04-18T12:00:00+00:00/PT9H", 6.0)]
    serve(httpserver, us_grid(spans))

    (forecast,) = fetch(httpserver).forecasts

    assert len(forecast.readings) == 9
    assert any("beyond belief" in lack for lack in forecast.lacks)


def test_it_tells_how_far_the_middle_of_the_grid_square_lies(httpserver):
    # a third of the corners lies 0.02 degrees north, that is 0.74 km for the middle
    serve(httpserver, us_grid([("2026-04-18T09:00:00+00:00/PT9H", 4.0)], latitude=45.363))

    (forecast,) = fetch(httpserver).forecasts

    assert forecast.grid_km == pytest.approx(11.9, abs=0.1)


@pytest.mark.parametrize(
    ("grid", "kind"),
    [
        (us_grid([("2026-04-18T09:00:00+00:00/PT9H", 40.0)], unit="wmoUnit:degF"), "wrong units"),
        (us_grid([("2026-04-18T09:00:00+00:00/PT9H", 4.0)], latitude=40.0), "wrong place"),
        (us_grid([("2026-04-11T09:00:00+00:00/PT9H", 4.0)]), "out of date"),
        (us_grid([("yesterday/PT9H", 4.0)]), "incomplete"),
        (us_grid([]), "incomplete"),
    ],
)
def test_an_answer_that_cannot_be_used_is_a_fault(httpserver, grid, kind):
    serve(httpserver, grid)

    fetched = fetch(httpserver)

    assert fetched.forecasts == ()
    assert fetched.faults[0].kind == kind
