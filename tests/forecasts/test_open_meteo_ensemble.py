from datetime import date

from exchange.domain.weather.nights import minima_by_member
from exchange.forecasts import open_meteo_ensemble
from exchange.forecasts.base import ForecastFaultKind
from tests.builders.weather import NOW, a_place
from tests.forecasts.answers import open_meteo as answer


def an_ensemble(names, *, unit="°C", hours=48):
    body = answer([5.0] * hours)
    times = body["hourly"]["time"]
    body["hourly"] = {"time": times} | {
        name: [float(number)] * hours for number, name in enumerate(names)
    }
    body["hourly_units"] = {"time": "iso8601"} | dict.fromkeys(names, unit)
    return body


def fetch(httpserver, body, *places):
    httpserver.expect_request("/v1/ensemble").respond_with_json(body)
    return open_meteo_ensemble.fetch(
        places or (a_place(),), NOW, base_url=httpserver.url_for("").rstrip("/")
    )


def test_each_member_has_its_own_nights(httpserver):
    names = ["temperature_2m", *(f"temperature_2m_member{n:02d}" for n in range(1, 6))]

    (forecast,) = fetch(httpserver, an_ensemble(names)).forecasts

    night = minima_by_member(forecast.readings, "Europe/London")[date(2026, 4, 18)]
    assert night == {n: float(n) for n in range(6)}
    assert forecast.lacks == ()
    assert forecast.source == "Open-Meteo ensemble"


def test_members_of_several_models_are_told_apart(httpserver):
    names = [
        "temperature_2m_model_a",
        "temperature_2m_model_b",
        "temperature_2m_member01_model_a",
        "temperature_2m_member01_model_b",
    ]

    (forecast,) = fetch(httpserver, an_ensemble(names)).forecasts

    assert {r.member for r in forecast.readings} == {None, 0, 1, 2, 3}


def test_a_member_in_other_units_spoils_the_answer(httpserver):
    names = ["temperature_2m", "temperature_2m_member01"]
    body = an_ensemble(names)
    body["hourly_units"]["temperature_2m_member01"] = "°F"

    assert fetch(httpserver, body).faults[0].kind is ForecastFaultKind.WRONG_UNITS


def test_an_answer_without_members_is_incomplete(httpserver):
    assert fetch(httpserver, an_ensemble([])).faults[0].kind is ForecastFaultKind.INCOMPLETE


def test_a_member_without_figures_is_left_out(httpserver):
    names = ["temperature_2m", "temperature_2m_member01", "temperature_2m_member02"]
    body = an_ensemble(names)
    body["hourly"]["temperature_2m_member01"] = [None] * 48

    (forecast,) = fetch(httpserver, body).forecasts

    assert {r.member for r in forecast.readings} == {None, 0, 2}
