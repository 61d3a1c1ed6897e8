"""Pages of spares, claims, varieties and help, seen by a browser."""

import pytest

from tests.app_fixtures import Visitor, ring
from tests.builders.offers import a_batch, a_claim, a_spare, a_variety, give, protect
from tests.journeys.seeing import faults, open_all, sideways

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def circle(here):
    made = ring(here.house)
    long_name = a_variety(made, "A Long Name That Somebody Gave to a Seedling of Her Garden")
    kettle, psalm = a_variety(made, "Tin Kettle"), a_variety(made, "Copper Psalm")
    protect(made, psalm)
    a_batch(made, "Cuthbert", kettle, plants=1)
    for variety_id in (long_name, kettle, psalm):
        a_spare(made, "Cuthbert", variety_id, health_by="Cuthbert")
    a_spare(made, "Effie", long_name)
    a_claim(made, "Effie", a_variety(made, "Wished For"), asked=3)
    a_claim(made, "Effie", kettle, alternatives=(long_name, psalm))
    taken = a_spare(made, "Cuthbert", a_variety(made, "Given Away"), count=1)
    give(made, taken, a_claim(made, "Effie", a_variety(made, "Given Away"), asked=2))
    return made


@pytest.fixture
def effie(here, circle, page, address):
    """Sign Effie in at the browser, by the cookie a visitor has."""
    visitor = Visitor(here, circle["Effie"])
    cookie = visitor.client.get_cookie("session")
    page.context.add_cookies([{"name": "session", "value": cookie.value, "url": address}])
    return page, address


LOOKED_AT = (
    "/spares",
    "/spares/3",
    "/spares/new",
    "/claims",
    "/claims/for/2",
    "/varieties/2",
    "/help/cautions",
)
MEASURED = (*LOOKED_AT, "/spares/box", "/varieties", "/varieties/2/marks", "/help/words")


def test_nothing_keeps_anybody_out(effie):
    page, house = effie
    page.set_viewport_size({"width": 320, "height": 900})
    found = {}
    for address in LOOKED_AT:
        page.goto(house + address)
        open_all(page)
        found[address] = faults(page)

    assert found == {address: [] for address in LOOKED_AT}


@pytest.mark.parametrize("width", [320, 1280])
def test_no_page_is_wider_than_its_window(effie, width):
    page, house = effie
    page.set_viewport_size({"width": width, "height": 900})
    wide = {}
    for address in MEASURED:
        assert page.goto(house + address).status == 200
        open_all(page)
        wide[address] = sideways(page)

    assert max(wide.values()) <= 0, wide


def test_spares_are_listed_in_the_box_by_keyboard_and_claimed_in_one_press(effie):
    page, house = effie
    page.set_viewport_size({"width": 320, "height": 900})
    page.goto(f"{house}/spares/box")
    page.get_by_label("One a line").fill("3 rooted Tin Kettle\n2 rooted Unheard Of")
    page.get_by_role("button", name="See how it was understood").press("Enter")
    page.get_by_label("Which plant, 2 rooted Unheard Of").select_option(
        label="New: Dahlia ‘Unheard Of’"
    )
    assert faults(page) == []
    assert sideways(page) <= 0

    page.get_by_role("button", name="Keep these lines").press("Enter")

    assert page.get_by_text("2 spares on the list.").first.is_visible()
    assert page.get_by_role("link", name="‘Unheard Of’").is_visible()
