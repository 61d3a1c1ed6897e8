"""A way goes through a town: kept, logged, weighed, removed; its nights come from what is near."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.people.towns import TownWanted, find_town
from exchange.actions.posting.plan_facts import facts_of, ways
from exchange.actions.posting.replan import replan
from exchange.actions.posting.route import (
    NightsFrom,
    NoRouteError,
    go_straight,
    go_through,
    route_outlooks,
)
from exchange.actions.posting.ways import way_page
from exchange.domain.posting.way import Carriage
from exchange.domain.weather.forecast import WeatherSource
from exchange.records import DEEDS, PLACES, ROUTE_POINTS, TASKS, WAYS, circles, forecasts_kept
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW, a_house
from tests.builders.season import MONDAY, a_course, a_season, tell_weather

NORWICH, SHAP, WESTPORT = "Norwich, Norfolk", "Shap, Cumbria", "Newport, Mayo"


@pytest.fixture
def season(tmp_path):
    """Odo grows at Norwich and takes no part in the share-out."""
    with a_house(tmp_path) as house:
        made = a_season(house, members=("Winnie", "Cuthbert", "Effie", "Odo"))
        tell_weather(made, NOW)
        made.plan()
        yield made


def a_town(text):
    return find_town(TownWanted(text))


def way_of(season, name="First class"):
    with season.house.books.reading() as tx:
        return WAYS.find(tx, season.circle_id, name=name)


def rows(season, repository, **where):
    with season.house.books.reading() as tx:
        return repository.all(tx, season.circle_id, **where)


def all_through(season, text):
    for way in rows(season, WAYS, carriage=Carriage.POST):
        go_through(season.organiser, way.id, a_town(text), NOW)


def freeze(season, first_name, nights):
    """Tell of frost at one member's place only, on the nights a number of days after Monday."""
    household = season.ring[first_name].household_id
    with season.house.books.writing() as tx:
        place = PLACES.find(tx, season.circle_id, household_id=household)
        frost = tuple(MONDAY + timedelta(days=n) for n in nights)
        later = NOW + timedelta(seconds=1)
        forecasts_kept.add(tx, season.circle_id, a_course(place.id, later, frost))


def nights_of(season):
    with season.house.books.reading() as tx:
        return route_outlooks(tx, season.circle_id, NOW)


def test_it_is_kept_logged_and_parcels_are_weighed_anew(season):
    way = way_of(season)
    with season.house.books.reading() as tx:
        stamp = circles.get(tx, season.circle_id).stamp

    go_through(season.organiser, way.id, a_town(SHAP), NOW)

    (point,) = rows(season, ROUTE_POINTS)
    assert (point.way_id, point.town, point.county, point.height_m) == (
        way.id,
        "Shap",
        "Cumbria",
        None,
    )
    assert "First class goes through Shap, Cumbria" in {one.what for one in rows(season, DEEDS)}
    assert rows(season, TASKS, kind="plan", state=TaskState.WAITING)
    with season.house.books.reading() as tx:
        assert circles.get(tx, season.circle_id).stamp > stamp
        assert ways(tx, season.circle_id)[way.id].via_place_id == point.number < 0


def test_another_town_takes_its_place_and_it_can_be_removed(season):
    way = way_of(season)
    go_through(season.organiser, way.id, a_town(SHAP), NOW)
    go_through(season.organiser, way.id, a_town(NORWICH), NOW)
    assert [one.town for one in rows(season, ROUTE_POINTS)] == ["Norwich"]

    go_straight(season.organiser, way.id, NOW)
    go_straight(season.organiser, way.id, NOW)

    assert rows(season, ROUTE_POINTS) == ()
    told = [one for one in rows(season, DEEDS) if "goes through no town" in one.act]
    assert len(told) == 1
    with season.house.books.reading() as tx:
        assert ways(tx, season.circle_id)[way.id].via_place_id is None


def test_by_hand_goes_through_none(season):
    with pytest.raises(NoRouteError):
        go_through(season.organiser, way_of(season, "By hand").id, a_town(SHAP), NOW)


def test_only_who_runs_the_circle_says_so(season):
    with pytest.raises(NotAllowedError):
        go_through(season.ring.actor("Effie"), way_of(season).id, a_town(SHAP), NOW)


@pytest.mark.parametrize(
    ("town", "nights", "source"),
    [
        (NORWICH, NightsFrom.FORECAST_NEARBY, WeatherSource.BOTH),
        (SHAP, NightsFrom.USUAL_ONLY, WeatherSource.CLIMATE),
        (WESTPORT, NightsFrom.NOTHING, WeatherSource.NONE),
    ],
)
def test_its_nights_come_from_what_is_near(season, town, nights, source):
    way = way_of(season)
    go_through(season.organiser, way.id, a_town(town), NOW)

    assert way_page(season.organiser, way.id).through.nights is nights
    (outlook,) = nights_of(season).values()
    assert outlook.source is source


def test_the_plan_has_its_nights_beside_the_places(season):
    go_through(season.organiser, way_of(season).id, a_town(SHAP), NOW)
    with season.house.books.reading() as tx:
        facts = facts_of(tx, season.circle_id, NOW)

    assert len(facts.outlooks) == len(facts.places) + 1
    assert set(facts.outlooks) - set(facts.places) == {
        one.number for one in rows(season, ROUTE_POINTS)
    }


def test_a_cold_town_between_moves_parcels_whose_ends_are_mild(season):
    freeze(season, "Odo", range(1, 5))
    replan(season.organiser, NOW)
    assert {one.announced_day for one in season.parcels()} == {MONDAY + timedelta(days=1)}

    all_through(season, NORWICH)
    moved = replan(season.organiser, NOW).moved

    assert len(moved) == 2
    assert all(one.posting_day > MONDAY + timedelta(days=1) for one in season.parcels())
    for one in season.parcels():
        assert any("cold in the depot on the way" in reason for reason in one.reasons)
