"""The share-out, the circle's terms and what members see of both, looked at in a browser."""

import pytest

from exchange.actions.sharing.allocation_answers import refuse
from exchange.actions.sharing.explanation import explain
from exchange.actions.sharing.share_out_choices import NewChoice, choose
from exchange.domain.optimise.programme import never_stop
from tests.app_fixtures import NOW, Visitor
from tests.builders.shared import a_sharing
from tests.builders.tasks import offer_to_reserve
from tests.journeys.live import come_in
from tests.journeys.seeing import faults, low_targets, open_all, sideways

pytestmark = pytest.mark.browser
TERMS = (
    "/circle/terms",
    "/circle/terms/green_quick",
    "/circle/terms/closed_from",
    "/circle/ways",
    "/circle/ways/new",
    "/circle/closures",
)


@pytest.fixture(scope="module")
def sharing(here):
    """A share-out confirmed, one spare refused since; and another under review."""
    made = a_sharing(here.house)
    variety = made.name("A very long name for a dahlia of the Lowmoor growers")
    made.offer("Winnie", variety)
    made.offer("Winnie", made.name("Tin Whistle"), count=3)
    made.ask("Cuthbert", variety, choice=1)
    made.lost = made.ask("Effie", variety, choice=3)
    made.all_of_it()
    made.first = made.share_out_id
    explain(made.organiser, made.lost, never_stop, ahead=False)
    refuse(made.organiser, made.given()[0].id, NOW)
    offer_to_reserve(made.organiser)
    again = made.offer("Odo", variety)
    made.open()
    made.work_out()
    choose(made.organiser, made.share_out_id, NewChoice(again, made.lost, 1, "so agreed"), NOW)
    made.work_out()
    return made


@pytest.fixture(scope="module")
def address(here, sharing, serve):
    return serve(here.app)


def look_over(page, url):
    """Give what is wrong with a page: by axe where it is narrow, and too wide or low at either width."""
    found = []
    for width in (320, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(url)
        open_all(page)
        found += low_targets(page)
        if sideways(page):
            found.append(f"{width} px: {sideways(page)} px too wide")
        if width == 320:
            found += faults(page)
    return found


def test_the_organisers_pages_are_without_fault(page, here, sharing, address):
    come_in(page, address, Visitor(here, sharing.ring["Winnie"]))
    paths = (
        *TERMS,
        "/share-out",
        f"/share-out/{sharing.first}",
        f"/share-out/{sharing.share_out_id}",
        f"/share-out/{sharing.share_out_id}/choose/{sharing.lost}",
    )
    found = {path: look_over(page, address + path) for path in paths}
    assert {path: faults for path, faults in found.items() if faults} == {}


def test_the_members_pages_are_without_fault(page, here, sharing, address):
    come_in(page, address, Visitor(here, sharing.ring["Effie"]))
    paths = ("/claims/share-out", f"/claims/{sharing.lost}/why", "/spares/left-over")
    found = {path: look_over(page, address + path) for path in paths}
    assert {path: faults for path, faults in found.items() if faults} == {}
