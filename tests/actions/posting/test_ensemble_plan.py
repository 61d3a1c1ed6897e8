"""What the ensemble service tells reaches the plan member by member."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from exchange.actions.posting.plan_facts import facts_of
from exchange.actions.weather.forecasts import fetch_forecasts
from exchange.domain.plan import make_plan
from exchange.forecasts.services import ForecastServices
from exchange.records import PLACES
from tests.app_fixtures import NOW, a_house
from tests.builders.season import MONDAY, a_season
from tests.forecasts import answers

MEMBERS, MILD_C, FROST_C = 12, 11.0, -25.0
START = datetime(2027, 4, 4)


@pytest.fixture
def season(tmp_path):
    with a_house(tmp_path) as house:
        yield a_season(house)


def a_run(cold):
    """Give eight days of hours, the nights cold or mild, the days mild."""
    hours = (START + timedelta(hours=n) for n in range(24 * 8))
    return [FROST_C if cold and (at.hour >= 20 or at.hour < 8) else MILD_C for at in hours]


def serve(season, httpserver, cold):
    """Answer for every place with an ensemble in which a number of members are cold."""
    with season.house.books.reading() as tx:
        places = PLACES.all(tx, season.circle_id)
    told = []
    for place in places:
        body = answers.open_meteo(
            a_run(False),
            latitude=place.latitude,
            longitude=place.longitude,
            start=START.isoformat(timespec="minutes"),
        )
        for number in range(1, MEMBERS):
            name = f"temperature_2m_member{number:02d}"
            body["hourly"][name] = a_run(number <= cold)
            body["hourly_units"][name] = "°C"
        told.append(body)
    httpserver.expect_request("/v1/ensemble").respond_with_json(told)


def asking(season, httpserver):
    services = ForecastServices(
        order=("open-meteo-ensemble",),
        contact="maud@example.org",
        open_meteo_ensemble=httpserver.url_for("").rstrip("/"),
    )
    actor = season.organiser
    return replace(actor, house=replace(actor.house, forecasts=services))


def losses(facts, day):
    """Give the chance of loss by each parcel's strip on a day."""
    plan = make_plan(facts, NOW)
    return [cell.loss for one in plan.parcels for cell in one.strip if cell.day == day]


def test_the_share_of_cold_members_is_the_chance_of_loss_in_the_plan(season, httpserver):
    serve(season, httpserver, cold=2)
    fetched = fetch_forecasts(asking(season, httpserver), NOW)
    assert set(fetched.sources) == {"Open-Meteo ensemble"}
    season.plan()

    with season.house.books.reading() as tx:
        facts = facts_of(tx, season.circle_id, NOW)
    told = {len(night.members) for one in facts.outlooks.values() for night in one.nights}
    assert told == {MEMBERS, 0}, "the ensemble's nights, then those of climate"
    by_member = losses(facts, MONDAY)
    assert len(by_member) == 2
    plain = {
        place: replace(one, nights=tuple(replace(night, members=()) for night in one.nights))
        for place, one in facts.outlooks.items()
    }
    by_normal = losses(replace(facts, outlooks=plain), MONDAY)

    assert by_member == pytest.approx([2 / MEMBERS] * 2, abs=0.01)
    assert min(by_normal) > 2 / MEMBERS + 0.04
