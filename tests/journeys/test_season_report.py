"""The season report of a circle as it is printed: one sheet."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from exchange.actions.growing.varieties import Marks, mark_variety, name_variety
from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.domain.growing.variety import Keeps, Species
from exchange.records import PARCELS
from tests.app_fixtures import NOW, Visitor
from tests.journeys.live import come_in
from tests.journeys.seeing import faults, open_all, sideways
from tests.web.walk import furnish

pytestmark = pytest.mark.browser
WIDTHS = (320, 768, 1280)


@pytest.fixture(scope="module")
def grown(here, circle):
    """Give the circle more wishes than are named, and a parcel that came."""
    furnish(circle)
    winnie = circle.actor("Winnie")
    for number in range(14):
        variety = name_variety(winnie, f"Lowmoor Seedling {number}", Species.DAHLIA, NOW)
        claim(circle.actor("Cuthbert"), NewClaim(variety.id, 2), NOW)
        if number < 7:
            mark_variety(winnie, variety.id, Marks(Keeps.BADLY, True, "ours", 3, False, ""), NOW)
    with here.house.books.reading() as tx:
        (parcel,) = PARCELS.all(tx, circle.circle_id)
    say_posted(winnie, parcel.id, NOW.date(), NOW)
    say_arrived(circle.actor("Effie"), parcel.id, Arrival(NOW.date()), NOW)
    return circle


def opened(page, here, address, circle, width=1280):
    page.set_viewport_size({"width": width, "height": 900})
    come_in(page, address, Visitor(here, circle["Effie"]))
    page.goto(f"{address}/season")


def test_it_prints_on_one_sheet(page, here, address, grown):
    opened(page, here, address, grown)

    sheet = PdfReader(BytesIO(page.pdf(format="A4", prefer_css_page_size=True)))

    assert len(sheet.pages) == 1
    assert "and 7 other varieties" in sheet.pages[0].extract_text().replace("\u00a0", " ")


@pytest.mark.parametrize("width", WIDTHS)
def test_it_fits_its_window_and_axe_finds_nothing(page, here, address, grown, width):
    opened(page, here, address, grown, width)
    open_all(page)

    assert sideways(page) <= 0
    assert faults(page) == []
