from datetime import date

import pytest

from exchange.domain.weather.climate import usual_night
from exchange.domain.weather.nights import minima_by_member
from exchange.domain.weather.note import Doubt
from exchange.domain.weather.outlook import outlook
from exchange.forecasts import open_meteo_ensemble
from exchange.forecasts.base import ForecastFaultKind
from tests.builders.weather import NOW, Pin, a_climate, a_place
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


SIX = ["temperature_2m", *(f"temperature_2m_member{n:02d}" for n in range(1, 6))]
SMALL_HOURS = range(24, 30)
TONIGHT = date(2026, 4, 18)


def one_lost(body, name, how):
    if how.startswith("undefined unit"):
        body["hourly_units"][name] = "undefined"
    body["hourly"][name] = {
        "all null": [None] * 48,
        "no column": None,
        "short column": [1.0] * 20,
        "beyond belief": [-999.0] * 48,
        "undefined unit": [None] * 48,
        "undefined unit, with figures": [1.0] * 48,
    }[how]
    return body


@pytest.mark.parametrize("number", [0, 3, 5])
@pytest.mark.parametrize(
    "how",
    [
        "all null",
        "no column",
        "short column",
        "beyond belief",
        "undefined unit",
        "undefined unit, with figures",
    ],
)
def test_a_member_without_figures_is_lost_alone_and_said(httpserver, number, how):
    body = one_lost(an_ensemble(SIX), SIX[number], how)

    fetched = fetch(httpserver, body)

    (forecast,) = fetched.forecasts
    assert fetched.faults == ()
    assert {r.member for r in forecast.readings} == {None, *range(6)} - {number}
    assert forecast.members == 6
    assert forecast.lacks == ("some members of the ensemble have no figures",)


@pytest.mark.parametrize("number", [0, 3])
def test_members_without_small_hours_are_said_and_the_night_keeps_the_usual_spread(
    httpserver, number
):
    body = an_ensemble(SIX)
    temperatures = body["hourly"][SIX[number]]
    body["hourly"][SIX[number]] = [
        None if hour in SMALL_HOURS else value for hour, value in enumerate(temperatures)
    ]

    (forecast,) = fetch(httpserver, body).forecasts

    night = outlook(Pin(), forecast, a_climate(), (TONIGHT, 1), NOW).nights[0]
    usual = usual_night(a_climate(), TONIGHT)
    assert "hours are missing from some members of the ensemble" in forecast.lacks
    assert (night.doubt, night.sd_c) == (Doubt.INCOMPLETE, usual.sd_k)
    assert night.mean_c < usual.mean_c
    assert number not in minima_by_member(forecast.readings, "Europe/London")[TONIGHT]


def test_an_ensemble_without_any_figures_is_incomplete(httpserver):
    body = an_ensemble(SIX)
    for name in SIX:
        body["hourly"][name] = [None] * 48

    assert fetch(httpserver, body).faults[0].kind is ForecastFaultKind.INCOMPLETE


def test_a_place_without_any_figures_does_not_cost_the_others_theirs(httpserver):
    lost = an_ensemble(SIX)
    for name in SIX:
        lost["hourly"][name] = [None] * 48
        lost["hourly_units"][name] = "undefined"

    fetched = fetch(httpserver, [lost, an_ensemble(SIX)], a_place(1), a_place(2))

    assert [forecast.place_id for forecast in fetched.forecasts] == [2]
    assert [fault.place_ids for fault in fetched.faults] == [(1,)]
