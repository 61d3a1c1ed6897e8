import json

import pytest

from exchange.forecasts.ask_all import NAMES, UnknownServiceError, fetch
from exchange.forecasts.services import ForecastServices
from tests.builders.weather import NOW, a_place
from tests.forecasts.answers import met_norway, open_meteo


def services(httpserver, *order, **changes):
    base = httpserver.url_for("").rstrip("/")
    return ForecastServices(
        order=order,
        contact="organiser@example.org",
        open_meteo=base,
        open_meteo_ensemble=base,
        met_norway=base,
        us_nws=base,
        **changes,
    )


def test_the_second_service_is_asked_for_what_the_first_had_not(httpserver):
    httpserver.expect_request("/v1/forecast").respond_with_json(
        [open_meteo(), open_meteo(latitude=0.0)]
    )
    httpserver.expect_request("/weatherapi/locationforecast/2.0/complete").respond_with_json(
        met_norway()
    )
    places = (a_place(1), a_place(2))

    fetched = fetch(services(httpserver, "open-meteo", "met-norway"), places, NOW)

    assert {f.place_id: f.source for f in fetched.forecasts} == {1: "Open-Meteo", 2: "MET Norway"}
    assert len(fetched.faults) == 1


def test_the_american_service_is_not_asked_for_british_places(httpserver):
    fetched = fetch(services(httpserver, "us-nws"), (a_place(),), NOW)

    assert (fetched.forecasts, fetched.faults, httpserver.log) == ((), (), [])


def test_no_service_asks_nothing(httpserver):
    assert fetch(services(httpserver), (a_place(),), NOW).forecasts == ()


def test_a_saved_file_stands_for_all_services(httpserver, tmp_path):
    path = tmp_path / "forecast.json"
    path.write_text(json.dumps(open_meteo()), encoding="utf-8")

    fetched = fetch(services(httpserver, *NAMES, saved_file=str(path)), (a_place(),), NOW)

    assert fetched.forecasts[0].source == "saved file"
    assert httpserver.log == []


def test_a_service_nobody_knows_is_named(httpserver):
    with pytest.raises(UnknownServiceError, match="wishbone"):
        fetch(services(httpserver, "wishbone"), (a_place(),), NOW)
