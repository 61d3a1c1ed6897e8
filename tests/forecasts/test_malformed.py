"""Answers of the right kind with a piece missing or of the wrong form."""

import copy

import pytest

from exchange.forecasts import met_norway, us_nws
from exchange.forecasts.http import Asking
from exchange.words.weather.weather import lack_sentence
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
        (("properties", "timeseries"), [None, None], "incomplete"),
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


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("properties", "timeseries", 20), None),
        (("properties", "timeseries", 20, "data"), []),
        (("properties", "timeseries", 20, "data", "instant"), None),
        (("properties", "timeseries", 20, "data", "instant", "details"), None),
        (("properties", "timeseries", 20, "time"), "soon"),
        (("properties", "timeseries", 20, "time"), None),
    ],
)
def test_a_norwegian_entry_out_of_form_loses_itself_alone(httpserver, path, value):
    httpserver.expect_request("/weatherapi/locationforecast/2.0/complete").respond_with_json(
        changed(norwegian(), path, value)
    )

    fetched = met_norway.fetch(
        (a_place(),), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    (forecast,) = fetched.forecasts
    assert fetched.faults == ()
    assert len(forecast.readings) == 47
    assert "some entries could not be read and were left out" in forecast.lacks
    assert "some hours are missing from the forecast" in forecast.lacks


@pytest.mark.parametrize("value", [None, [], {"details": None}, {"details": {}}])
def test_six_hours_that_say_nothing_cost_no_hour_that_is_told(httpserver, value):
    body = norwegian(minima=[4.0] * 48)
    httpserver.expect_request("/weatherapi/locationforecast/2.0/complete").respond_with_json(
        changed(body, ("properties", "timeseries", 20, "data", "next_6_hours"), value)
    )

    fetched = met_norway.fetch(
        (a_place(),), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    (forecast,) = fetched.forecasts
    assert (len(forecast.readings), forecast.lacks) == (48, ())


@pytest.mark.parametrize(
    ("name", "lack"),
    [
        ("dew_point_temperature", "the forecast has no dew points"),
        ("wind_speed", "the forecast has no wind"),
        ("cloud_area_fraction", "the forecast has no cloud"),
    ],
)
def test_a_norwegian_column_in_an_undefined_unit_is_lost_alone(httpserver, name, lack):
    units = {"air_temperature": "celsius", name: "undefined"}
    httpserver.expect_request("/weatherapi/locationforecast/2.0/complete").respond_with_json(
        norwegian(units=units)
    )

    fetched = met_norway.fetch(
        (a_place(),), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    (forecast,) = fetched.forecasts
    assert (len(forecast.readings), forecast.lacks) == (48, (lack,))


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
        (("properties", "temperature", "values"), [{"value": 3}], "incomplete"),
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
    ("layer", "entry", "lacks"),
    [
        ("temperature", None, ("entries", "holes")),
        ("temperature", {"validTime": "soon", "value": 3.0}, ("entries", "holes")),
        ("temperature", {"validTime": "2026-04-18T19:00:00+00:00/PT2H", "value": None}, ("holes",)),
        ("minTemperature", None, ("entries",)),
        ("windSpeed", None, ("entries",)),
    ],
)
def test_an_american_entry_out_of_form_loses_itself_alone(httpserver, layer, entry, lacks):
    first, later = "2026-04-18T09:00:00+00:00/PT10H", "2026-04-18T21:00:00+00:00/PT18H"
    grid = us_grid([(first, 4.0), (later, 2.0)])
    for name, unit in (("windSpeed", "wmoUnit:km_h-1"), ("dewpoint", "wmoUnit:degC")):
        grid["properties"][name] = {"uom": unit, "values": [{"validTime": first, "value": 3.6}]}
    grid["properties"]["skyCover"] = {"values": [{"validTime": first, "value": 10}]}
    if layer != "temperature":
        between = {"validTime": "2026-04-18T19:00:00+00:00/PT2H", "value": 3.0}
        grid["properties"]["temperature"]["values"].append(between)
    grid["properties"][layer]["values"].append(entry)
    httpserver.expect_request("/points/45.263,-122.693").respond_with_json(
        sample("nws_points.json")
    )
    httpserver.expect_request("/gridpoints/PQR/114,91").respond_with_json(grid)

    fetched = us_nws.fetch(
        (CANBY,), NOW, base_url=httpserver.url_for("").rstrip("/"), asking=ASKING
    )

    (forecast,) = fetched.forecasts
    assert {reading.temperature_c for reading in forecast.readings} >= {4.0, 2.0}
    assert forecast.lacks == tuple(lack_sentence(lack) for lack in lacks)


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
