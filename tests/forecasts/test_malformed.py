"""Answers of the right kind with a piece missing or of the wrong form."""

import copy

import pytest

from exchange.forecasts import met_norway, us_nws
from exchange.forecasts.http import Asking
from tests.builders.weather import NOW, a_place
from tests.forecasts.answers import met_norway as norwegian
from tests.forecasts.answers import sample, us_grid

ASKING = Asking(contact="organiser@example.org")
CANBY = a_place(1, 45.263, -122.693, country="US", subdivision="OR", zone="America/Los_Angeles")
MISSING = object()


def changed(body, path, value):
    body = copy.deepcopy(body)
    *way, last = path
    part = body
    for step in way:
        part = part[step]
    if value is MISSING:
        del part[last]
    else:
        part[last] = value
    return body


@pytest.mark.parametrize(
    ("path", "value", "kind"),
    [
        (("properties",), MISSING, "incomplete"),
        (("properties", "timeseries"), [], "incomplete"),
        (("properties", "timeseries", 0, "data"), [], "incomplete"),
        (("properties", "timeseries", 0, "time"), "soon", "unreadable"),
        (("properties", "meta", "units", "air_temperature"), "fahrenheit", "wrong units"),
        (("geometry", "coordinates"), [-2.72], "incomplete"),
        (("geometry", "coordinates"), ["west", "north"], "incomplete"),
        (("geometry", "coordinates"), [10.7, 59.9, 20], "wrong place"),
    ],
)
def test_a_norwegian_answer_out_of_form_is_a_fault(httpserver, path, value, kind):
    httpserver.expect_request("/weatherapi/locationforecast/2.0/complete").respond_with_json(
        changed(norwegian(), path, value)
    )

    fetched = met_norway.fetch(
        (a_place(),), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    assert (fetched.forecasts, fetched.faults[0].kind) == ((), kind)


def test_a_norwegian_answer_without_any_temperature_is_incomplete(httpserver):
    httpserver.expect_request("/weatherapi/locationforecast/2.0/complete").respond_with_json(
        norwegian([None] * 5)
    )

    fetched = met_norway.fetch(
        (a_place(),), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    assert fetched.faults[0].kind == "incomplete"


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("properties",), MISSING),
        (("properties", "gridId"), "../points"),
        (("properties", "gridX"), "114"),
    ],
)
def test_a_grid_square_out_of_form_is_a_fault(httpserver, path, value):
    httpserver.expect_request("/points/45.263,-122.693").respond_with_json(
        changed(sample("nws_points.json"), path, value)
    )

    fetched = us_nws.fetch(
        (CANBY,), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    assert fetched.faults[0].kind == "incomplete"
    assert len(httpserver.log) == 1


@pytest.mark.parametrize(
    ("path", "value", "kind"),
    [
        (("properties",), MISSING, "incomplete"),
        (("geometry",), None, "incomplete"),
        (("geometry", "coordinates"), [[]], "incomplete"),
        (("properties", "temperature", "values"), [{"value": 3}], "unreadable"),
    ],
)
def test_a_grid_out_of_form_is_a_fault(httpserver, path, value, kind):
    grid = us_grid([("2026-04-18T09:00:00+00:00/PT30H", 4.0)])
    httpserver.expect_request("/points/45.263,-122.693").respond_with_json(
        sample("nws_points.json")
    )
    httpserver.expect_request("/gridpoints/PQR/114,91").respond_with_json(
        changed(grid, path, value)
    )

    fetched = us_nws.fetch(
        (CANBY,), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    assert (fetched.forecasts, fetched.faults[0].kind) == ((), kind)


@pytest.mark.parametrize(
    ("status", "kind"),
    [(404, "not offered"), (429, "limit"), (403, "refused"), (503, "overloaded")],
)
def test_a_refusal_by_the_american_service_is_a_fault(httpserver, status, kind):
    httpserver.expect_request("/points/45.263,-122.693").respond_with_data("no", status=status)
    base = httpserver.url_for("").rstrip("/")

    fetched = us_nws.fetch((CANBY,), NOW, base_url=base, asking=ASKING)

    assert fetched.faults[0].kind == kind


def test_without_a_contact_the_american_service_is_not_asked():
    fetched = us_nws.fetch((CANBY,), NOW, base_url="http://127.0.0.1:9")

    assert fetched.faults[0].kind == "no contact"
