"""Every page of a planned circle, found by its links: nobody kept out, none too wide, no scripts needed."""

import pytest

from exchange.records import MEMBERS, PARCELS, PLACES
from tests.app_fixtures import Visitor
from tests.builders.demo import demo_site
from tests.journeys.live import come_in
from tests.journeys.walking import look_narrow_and_wide, too_wide, walk, wrong

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    with demo_site(tmp_path_factory.mktemp("demo")) as made:
        yield made


@pytest.fixture(scope="module")
def address(built, serve):
    return serve(built[0].app)


def visitor(built, first_name):
    here, demo = built
    with here.house.books.reading() as tx:
        member = MEMBERS.find(tx, demo.settled.circle_id, first_name=first_name)
    return Visitor(here, member)


def test_every_page_the_organiser_is_led_to_keeps_nobody_out(page, built, address):
    come_in(page, address, visitor(built, "Winifred"))

    found = walk(page, address, look_narrow_and_wide)

    assert wrong(found) == {}
    assert len(found) >= 45, sorted(found)


def test_a_member_reaches_every_page_without_scripts_on_a_narrow_screen(browser, built, address):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 320, "height": 900})
    page = context.new_page()
    come_in(page, address, visitor(built, "Tamsin"))

    found = walk(page, address, too_wide)
    context.close()

    assert wrong(found) == {}
    for path in ("/todo", "/spares", "/claims", "/parcels", "/varieties", "/garden", "/calendars"):
        assert path in found, path
    assert any(path.endswith("/slip") for path in found)


def test_the_weather_of_all_places_takes_at_most_three_screens_of_a_telephone(page, built, address):
    """The demo's 19 places in 18 towns, at 360 by 740 pixels."""
    come_in(page, address, visitor(built, "Winifred"))
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto(f"{address}/weather")

    assert page.locator(".everywhere tbody tr:not(.kind)").count() >= 18
    assert page.evaluate("document.documentElement.scrollHeight") <= 3 * 740


def test_where_every_hour_is_forecast_no_page_speaks_of_missing_ones(built):
    here, demo = built
    organiser = visitor(built, "Winifred")
    circle_id = demo.settled.circle_id
    with here.house.books.reading() as tx:
        parcels = [one.id for one in PARCELS.all(tx, circle_id)]
        places = [one.id for one in PLACES.all(tx, circle_id)]
    paths = ["/weather", *(f"/weather/places/{one}" for one in places)]
    paths += [path for one in parcels for path in (f"/parcels/{one}", f"/papers/{one}/care")]

    found = [path for path in paths if "Hours are missing" in organiser.get(path).text]

    assert len(paths) > 100
    assert found == []
