"""My garden, the circle, people and letters, seen by a browser."""

import pytest

from exchange.actions.kernel.links import Purpose
from tests.app_fixtures import Visitor, link_for, ring
from tests.journeys.live import come_in
from tests.journeys.seeing import faults, low_targets, open_all, sideways
from tests.web.walk import furnish

pytestmark = pytest.mark.browser
MEMBERS_PAGES = (
    "/garden",
    "/garden/places/new",
    "/garden/posting",
    "/garden/address",
    "/garden/contact",
    "/garden/away",
    "/circle",
    "/who-did-what",
    "/letters/mine",
    "/people/leave",
    "/my-sign-in",
    "/my-sign-in/address",
)
ORGANISERS_PAGES = (
    "/circle",
    "/people/invite",
    "/people/add",
    "/letters",
    "/letters/print",
    "/who-did-what/everybody",
    "/lists/members",
    "/lists/parcels",
    "/tasks/1",
)


@pytest.fixture(scope="module")
def circle(here):
    made = ring(here.house, members=("Winnie", "Cuthbert", "Effie", "Odo"))
    furnish(made)
    return made


def look_over(page, url):
    """Give what is wrong with a page: by axe where it is narrow, and too wide or low at any width."""
    page.set_viewport_size({"width": 320, "height": 900})
    page.goto(url)
    open_all(page)
    found = [*faults(page), *low_targets(page)]
    for width in (320, 768, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        if sideways(page) > 0:
            found.append(f"wider than {width}")
    return found


@pytest.mark.parametrize("path", MEMBERS_PAGES)
def test_a_members_page_keeps_nobody_out(page, address, here, circle, path):
    come_in(page, address, Visitor(here, circle["Effie"]))

    assert look_over(page, address + path) == []


@pytest.mark.parametrize("path", ORGANISERS_PAGES)
def test_an_organisers_page_keeps_nobody_out(page, address, here, circle, path):
    come_in(page, address, Visitor(here, circle["Winnie"]))

    assert look_over(page, address + path) == []


def test_the_page_of_a_person_and_of_a_place_keep_nobody_out(page, address, here, circle):
    come_in(page, address, Visitor(here, circle["Winnie"]))
    place = circle.place("Effie").id

    for path in (
        f"/people/{circle['Effie'].id}",
        f"/people/{circle['Effie'].id}/set-up",
        f"/garden/places/{place}",
        f"/garden/places/{place}/shelter?kind=cold",
    ):
        assert look_over(page, address + path) == [], path


def test_an_invitation_and_a_sign_in_link_keep_nobody_out(page, address, here, circle):
    for purpose in (Purpose.INVITATION, Purpose.SIGN_IN):
        member = circle["Odo"] if purpose is Purpose.INVITATION else circle["Effie"]
        url = address + link_for(here, member, purpose)
        assert look_over(page, url) == [], url


def test_a_form_that_comes_back_says_beside_each_field_what_to_put_right(
    page, address, here, circle
):
    come_in(page, address, Visitor(here, circle["Effie"]))
    page.goto(f"{address}/garden/places/new")
    page.get_by_label("Town or postal district").fill("Newport")
    page.get_by_label("Height above the sea").fill("very high")
    page.get_by_role("button", name="Keep this place").click()

    assert page.title().startswith("One thing to put right")
    assert page.get_by_label("Height above the sea").input_value() == "very high"
    page.get_by_label("Height above the sea").fill("20")
    page.get_by_role("button", name="Keep this place").click()
    page.get_by_label("Newport, Essex").check()
    page.get_by_role("button", name="Keep this place").click()

    assert "The place is kept." in page.get_by_role("status").inner_text()
    assert "Newport, Essex" in page.inner_text("main")
