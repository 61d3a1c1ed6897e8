"""One season in a browser without scripts: listed, claimed, shared out, posted, come, in the calendar."""

from datetime import timedelta
from urllib.parse import urlsplit

import icalendar
import pytest
import requests

from exchange.actions.kernel.actor import clock_actor
from exchange.actions.kernel.tasks import run_one
from exchange.actions.posting.questions import ask_questions
from exchange.domain.posting.parcel import ParcelState
from exchange.jobs.kinds import KINDS
from exchange.records import LETTERS, PARCELS, SPARES
from tests.app_fixtures import NOW, Visitor, ring
from tests.builders.season import MONDAY, morning, tell_weather_in
from tests.journeys.live import come_in

TUESDAY = MONDAY + timedelta(days=1)

pytestmark = pytest.mark.browser
BOX = "3 rooted Chapel Lantern\n2 young plants Fuchsia Tin Kettle"


@pytest.fixture(scope="module")
def circle(here):
    made = ring(here.house)
    tell_weather_in(here.house, made.circle_id, NOW)
    return made


@pytest.fixture
def pages(browser):
    """Give a function that opens a browser of its own for somebody, with scripts off."""
    contexts = []

    def open_for(address, visitor=None):
        context = browser.new_context(java_script_enabled=False)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(10_000)
        if visitor is not None:
            come_in(page, address, visitor)
        return page

    yield open_for
    for context in contexts:
        context.close()


def work(here):
    """Do what the worker would do."""
    while run_one(here.house, KINDS, here.clock):
        pass


def link_of(here, circle, kind, first_name):
    """Give the path of the one-button link in a letter."""
    with here.house.books.reading() as tx:
        letters = LETTERS.all(tx, circle.circle_id, member_id=circle[first_name].id, kind=kind)
    line = next(one for one in letters[-1].body.splitlines() if "/answer/" in one)
    return urlsplit(line.strip()).path


def the_parcel(here, circle):
    with here.house.books.reading() as tx:
        (parcel,) = PARCELS.all(tx, circle.circle_id)
    return parcel


def main_of(page):
    return " ".join(page.inner_text("main").split())


def test_the_organiser_opens_a_share_out_and_lists_spares_in_the_box(here, circle, address, pages):
    page = pages(address, Visitor(here, circle["Winnie"]))
    page.goto(f"{address}/share-out")
    page.get_by_label("What is shared out").fill("Spring")
    page.get_by_role("textbox", name="Closing day").fill(MONDAY.isoformat())
    page.get_by_role("button", name="Open it").click()
    assert "Claims close on Mon 5 April" in main_of(page)

    page.goto(f"{address}/spares")
    page.get_by_role("link", name="List several at once").click()
    page.get_by_role("textbox").first.fill(BOX)
    page.get_by_role("button", name="See how it was understood").click()
    page.locator("select[name=rows-0-variety]").select_option("new:dahlia")
    page.locator("select[name=rows-1-variety]").select_option("new:fuchsia")
    page.get_by_role("button", name="Keep these lines").click()

    with here.house.books.reading() as tx:
        listed = [one.count for one in SPARES.all(tx, circle.circle_id)]
    assert sorted(listed) == [2, 3]


def test_somebody_else_claims_in_one_press_each(here, circle, address, pages):
    page = pages(address, Visitor(here, circle["Effie"]))
    for _name in ("Chapel Lantern", "Tin Kettle"):
        page.goto(f"{address}/spares")
        page.get_by_role("button", name="I would like one").first.click()

    page.goto(f"{address}/claims")
    assert "Chapel Lantern" in main_of(page)
    assert "Tin Kettle" in main_of(page)


def test_the_organiser_works_it_out_looks_and_confirms(here, circle, address, pages):
    page = pages(address, Visitor(here, circle["Winnie"]))
    page.goto(f"{address}/share-out")
    page.get_by_role("link", name="Spring").click()
    page.get_by_role("button", name="Work it out").click()
    assert "/tasks/" in page.url
    work(here)
    page.reload()
    page.get_by_role("link", name="See what came of it").click()
    assert "2 of 2 claims would be met in full. Nobody has been told yet." in main_of(page)

    page.get_by_role("link", name="Confirm the share-out").click()
    assert "2 plants are given, from 1 household to 1." in main_of(page)
    page.get_by_role("button", name="Confirm it").click()
    assert "2 plants are given" in main_of(page)
    work(here)

    assert the_parcel(here, circle).posting_day == TUESDAY


def test_the_sender_says_yes_by_the_link_of_the_letter(here, circle, address, pages):
    page = pages(address)
    page.goto(address + link_of(here, circle, "share_out", "Winnie"))
    assert "Effie" in main_of(page)

    page.get_by_role("button", name="Yes, all of it").click()

    assert "2 plants can go" in main_of(page)


def test_the_sender_opens_the_slip(here, circle, address, pages):
    page = pages(address, Visitor(here, circle["Winnie"]))
    page.goto(f"{address}/parcels")
    page.get_by_role("link", name=the_parcel(here, circle).code).first.click()
    assert "Post on Tue" in main_of(page)
    page.get_by_role("link", name="Print the papers").click()
    page.get_by_role("link", name="Packing slip, a page to print").click()

    slip = main_of(page)
    assert "For Effie, from Winnie" in slip
    assert "is forecast at either end, wait." in slip


def test_did_it_go_is_answered_by_one_button_without_signing_in(here, circle, address, pages):
    here.clock.at = morning(TUESDAY + timedelta(days=1), 9)
    ask_questions(clock_actor(here.house, circle.circle_id), here.now())
    page = pages(address)
    page.goto(address + link_of(here, circle, "did_it_go", "Winnie"))
    assert the_parcel(here, circle).state is ParcelState.ANNOUNCED, "looking answers nothing"

    page.get_by_role("button", name="Yes, it went on").click()

    assert "Thank you." in main_of(page)
    assert the_parcel(here, circle).posted_on == TUESDAY
    page.goto(address + link_of(here, circle, "did_it_go", "Winnie"))
    assert page.get_by_role("button", name="Yes, it went on").count() == 0


def test_did_it_come_is_answered_by_one_button_without_signing_in(here, circle, address, pages):
    parcel = the_parcel(here, circle)
    here.clock.at = morning(parcel.arrival_to + timedelta(days=1), 9)
    ask_questions(clock_actor(here.house, circle.circle_id), here.now())
    page = pages(address)
    page.goto(address + link_of(here, circle, "did_it_come", "Effie"))

    page.get_by_role("button", name="It came on").first.click()

    assert "Thank you." in main_of(page)
    assert the_parcel(here, circle).state is ParcelState.ARRIVED
    assert the_parcel(here, circle).arrived_on == parcel.arrival_from


def test_the_receiver_subscribes_and_the_calendar_says_when_nothing_changed(
    here, circle, address, pages
):
    page = pages(address, Visitor(here, circle["Effie"]))
    page.goto(f"{address}/calendars")
    page.get_by_role("button", name="Make an address").first.click()
    shown = next(word for word in main_of(page).split() if word.endswith("/member.ics"))
    url = address + urlsplit(shown).path

    first = requests.get(url, timeout=10)
    again = requests.get(url, timeout=10, headers={"If-None-Match": first.headers["ETag"]})
    changed = requests.get(url, timeout=10, headers={"If-None-Match": '"something-else"'})

    assert first.status_code == changed.status_code == 200
    assert first.headers["Content-Type"].startswith("text/calendar")
    assert (again.status_code, again.content) == (304, b"")
    events = icalendar.Calendar.from_ical(first.text).walk("VEVENT")
    assert any(the_parcel(here, circle).code in str(one["SUMMARY"]) for one in events)
