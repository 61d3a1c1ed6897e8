"""The demo's forecast is as old as the circle's own clock says, whatever hour the machine has."""

from datetime import UTC, datetime, timedelta

import pytest

from exchange.actions.circle.set_up import upgrade_records
from exchange.actions.demo.build import Demo
from exchange.actions.demo.clock import demo_clock
from exchange.actions.demo.data import demo_data
from exchange.actions.demo.people import settle
from exchange.actions.kernel.actor import circle_of, clock_actor, now_of
from exchange.actions.posting.page_parcels import parcels_page
from exchange.actions.weather.forecasts import fetch_forecasts
from exchange.actions.weather.page_weather import weather_page
from exchange.paths import DEMO_DATA
from tests.app_fixtures import NOW, site

BEGUN = [
    datetime(2026, 11, 25, 0, 10, tzinfo=UTC),
    datetime(2026, 7, 25, 3, 0, 0, 17, tzinfo=UTC),
    datetime(2026, 11, 25, 9, 0, tzinfo=UTC),
    datetime(2026, 7, 25, 22, 50, tzinfo=UTC),
    datetime(2026, 11, 25, 23, 59, tzinfo=UTC),
]


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    forecast = DEMO_DATA / "forecast.json"
    folder = tmp_path_factory.mktemp("demo")
    with site(folder, forecast_source="saved", forecast_file=forecast) as made:
        upgrade_records(made.house, NOW.date())
        data = demo_data()
        settled = settle(made.house, data)
        fetched = fetch_forecasts(clock_actor(made.house, settled.circle_id), data.now)
        yield Demo(data, settled, None, fetched)


def circle_time(demo, machine_now):
    organiser = demo.settled.organiser
    with organiser.books.reading() as tx:
        return now_of(organiser.house, circle_of(organiser, tx), machine_now)


@pytest.mark.parametrize("begun", BEGUN)
def test_it_opens_at_the_hour_it_was_built_for_and_runs_on(demo, begun):
    machine = [begun]
    clock = demo_clock(demo, lambda: machine[0])
    opened = circle_time(demo, clock())
    machine[0] += timedelta(hours=3)

    assert opened == demo.data.now
    assert circle_time(demo, clock()) == demo.data.now + timedelta(hours=3)


@pytest.mark.parametrize("begun", BEGUN)
@pytest.mark.parametrize(("running_h", "old"), [(0, False), (2, False), (9, False), (10, True)])
def test_the_forecasts_age_is_that_of_the_circles_day(demo, begun, running_h, old):
    machine = [begun]
    clock = demo_clock(demo, lambda: machine[0])
    machine[0] += timedelta(hours=running_h)
    now = circle_time(demo, clock())
    organiser = demo.settled.organiser

    places = weather_page(organiser, now).own
    behind = parcels_page(organiser, now).weather

    assert {one.behind.age for one in places} == {timedelta(hours=8 + running_h)}
    assert {one.behind.expired for one in places} == {old}
    assert behind.expired is old
    assert behind.fetched_at == demo.data.now
