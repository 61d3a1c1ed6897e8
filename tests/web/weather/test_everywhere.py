"""The weather of all places: coldest first, under three heads, each fact once."""

import re
from datetime import timedelta

import pytest

from exchange.actions.weather.page_weather import weather_page
from exchange.records import forecasts_kept
from exchange.web.weather.everywhere import everywhere
from tests.app_fixtures import NOW, Visitor
from tests.builders.weather import a_forecast, hourly

LOWS = {"Winnie": 3.0, "Cuthbert": -0.5, "Effie": -6.0}
SOURCE = "All by the forecast of Open-Meteo"


def tell(circle, lows=LOWS, **changes):
    start = NOW - timedelta(hours=NOW.hour)
    with circle.house.books.writing() as tx:
        for name, low in lows.items():
            place = circle.place(name).id
            one = a_forecast(
                hourly([low] * 300, start=start), place_id=place, issued_at=NOW - timedelta(hours=2)
            )
            forecasts_kept.add(tx, circle.circle_id, one)


@pytest.fixture
def view(here, circle):
    tell(circle)
    with here.app.test_request_context():
        return everywhere(weather_page(circle.actor("Winnie"), NOW))


def rows(view):
    return [row for group in view.groups for row in group.rows]


def test_the_coldest_place_stands_first(view):
    assert [row.who for row in rows(view)] == ["Effie", "Cuthbert", "Winnie"]
    assert [group.head.split(":")[0] for group in view.groups] == [
        "Frost is almost certain",
        "Frost is likely",
        "Perhaps, or not at all",
    ]


def test_a_night_is_a_figure_and_a_depth_that_grows_with_the_chance(view):
    cold, middling, mild = (row.nights[1] for row in rows(view))

    assert (cold.is_frost, middling.is_frost, mild.is_frost) == (True, True, False)
    assert cold.depth > middling.depth > mild.depth
    assert mild.height > 0 == cold.height
    assert cold.low.startswith("−")


def test_the_organiser_has_a_link_to_each_place_a_member_to_their_own(here, circle):
    tell(circle)
    told = Visitor(here, circle["Winnie"]).get("/weather").text
    assert ">, the farther ahead the nearer to usual nights<" in told
    links = re.findall(r'href="/weather/places/(\d+)"', told)
    assert {int(one) for one in links} == {circle.place(name).id for name in LOWS}

    told = Visitor(here, circle["Effie"]).get("/weather").text
    assert re.findall(r'href="/weather/places/(\d+)"', told) == [str(circle.place("Effie").id)]


def test_of_others_a_member_reads_county_and_coldest_night_alone(here, circle):
    tell(circle)
    with here.app.test_request_context():
        seen = everywhere(weather_page(circle.actor("Effie"), NOW))

    others = [row for row in rows(seen) if row.who != "Effie"]
    assert len(others) == 2
    assert all(row.nights == () and row.url == "" for row in others)
    assert {row.where for row in others} == {circle.place(n).county for n in ("Winnie", "Cuthbert")}
    assert all(row.low and row.chance for row in others)


def test_source_and_age_are_said_once(here, circle):
    tell(circle)
    text = Visitor(here, circle["Winnie"]).get("/weather").text.replace("\u00a0", " ")

    assert text.count(SOURCE) == 1
    assert text.count("2 hours ago") == 1


def test_a_place_without_a_forecast_is_named_for_it(here, circle):
    tell(circle, {name: low for name, low in LOWS.items() if name != "Cuthbert"})
    text = Visitor(here, circle["Winnie"]).get("/weather").text

    assert f"{circle.place('Cuthbert').town}: no forecast, so usual nights." in text
    assert SOURCE not in text
