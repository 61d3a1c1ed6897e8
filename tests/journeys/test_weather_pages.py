"""The pages of the weather, seen by a browser."""

from datetime import timedelta

import pytest

from exchange.actions.weather.observations import observe
from exchange.records import forecasts_kept
from tests.app_fixtures import NOW, Visitor, ring
from tests.builders.weather import a_forecast, hourly
from tests.journeys.live import come_in
from tests.journeys.seeing import faults, low_targets, open_all, sideways
from tests.web.walk import furnish

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def circle(here):
    made = ring(here.house, members=("Winnie", "Cuthbert", "Effie", "Odo"))
    furnish(made)
    place = made.place("Effie").id
    start = NOW - timedelta(days=4, hours=NOW.hour)
    with here.house.books.writing() as tx:
        one = a_forecast(
            hourly([3.0] * 240, start=start), place_id=place, issued_at=NOW - timedelta(days=4)
        )
        forecasts_kept.add(tx, made.circle_id, one)
    for day in (2, 3):
        observe(made.actor("Effie"), place, NOW.date().replace(day=day), day - 3.0, NOW)
    return made


@pytest.mark.parametrize(
    "path", ["", "/note", "/tonight", "/observed", "/file", "/record", "all", "preview"]
)
def test_a_page_of_the_weather_keeps_nobody_out(page, address, here, circle, path):
    come_in(page, address, Visitor(here, circle["Effie"]))
    place = f"/weather/places/{circle.place('Effie').id}"
    url = {"all": "/weather", "preview": "/weather/files/1"}.get(path, place + path)
    page.set_viewport_size({"width": 320, "height": 900})
    page.goto(address + url)
    open_all(page)

    found = [*faults(page), *low_targets(page)]
    for width in (320, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        if sideways(page) > 0:
            found.append(f"wider than {width}")

    assert found == []


def test_what_the_evening_tells_keeps_nobody_out(page, address, here, circle):
    come_in(page, address, Visitor(here, circle["Effie"]))
    page.goto(f"{address}/weather/places/{circle.place('Effie').id}/tonight")
    page.get_by_label("Temperature two hours after sunset").fill("2,5")
    page.get_by_label("The sky is clear").check()
    page.get_by_label("There is no wind").check()
    page.get_by_role("button", name="What may come?").click()

    assert "80 in 100 such nights" in page.get_by_role("status").inner_text()
    assert faults(page) == []
