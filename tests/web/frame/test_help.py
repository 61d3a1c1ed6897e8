"""Help: a page for each page, for anybody; the words are those of the glossary."""

import html
import re

import pytest

from exchange.web.frame.help_pages import HELP_PAGES, help_for
from exchange.web.frame.page_frame import ORGANISER_PAGES
from tests.app_fixtures import Visitor, site
from tests.house import ROOT


@pytest.fixture(scope="module")
def anybody(tmp_path_factory):
    with site(tmp_path_factory.mktemp("help")) as here:
        yield Visitor(here)


@pytest.mark.parametrize("slug", HELP_PAGES)
def test_every_help_page_is_open_to_anybody(anybody, slug):
    page = anybody.get(f"/help/{slug}")

    assert page.status_code == 200
    assert HELP_PAGES[slug] in page.text


def test_the_list_of_help_leads_to_every_page(anybody):
    page = anybody.get("/help").text

    assert all(f"/help/{slug}" in page for slug in HELP_PAGES)
    assert anybody.get("/help/cabbage").status_code == 404


def test_every_page_in_the_row_has_its_own_help():
    assert [help_for(address) for _name, address in ORGANISER_PAGES] == [
        f"/help{address}" for _name, address in ORGANISER_PAGES
    ]


def test_pages_below_a_page_have_its_help():
    assert help_for("/spares/12/change") == "/help/spares"
    assert help_for("/spares/box/list") == "/help/box"
    assert help_for("/elsewhere") == "/help"


def test_the_words_page_has_the_glossary_but_not_the_words_of_the_code(anybody):
    page = html.unescape(anybody.get("/help/words").text)
    text = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
    for_members, code = text.split("## Words of the code")

    lines = [line.strip("| ") for line in for_members.splitlines() if "|" in line]
    rows = [tuple(part.strip() for part in line.split("|")) for line in lines]
    written = [row for row in rows if row[0] not in {"word", "---"}]
    shown = re.findall(r"<dt><strong>(.+?)</strong></dt>\s*<dd>(.+?)</dd>", page)
    headings = re.findall(r'<h2 id="words-\d+">(.+?)</h2>', page)
    assert shown == written
    assert headings == re.findall(r"^## (.+)$", for_members, flags=re.MULTILINE)
    assert "| facts |" in code


@pytest.mark.parametrize(
    "line",
    [
        "Contains public sector information licensed under the Open Government Licence v3.0",
        "Contains OS data © Crown copyright and database right.",
        "Contains Royal Mail data © Royal Mail copyright and database right.",
        "Contains National Statistics data © Crown copyright and database right.",
        "GeoNames",
        "Weather data by Open-Meteo.com",
        "Based on data from MET Norway",
        "United States National Weather Service",
    ],
)
def test_whoever_made_the_data_is_named_as_they_ask(anybody, line):
    """The lines are those of seed_data/reference/ATTRIBUTION.md."""
    assert line in anybody.get("/help/attribution").text


@pytest.mark.parametrize("authority", ["APHA", "DAERA", "Plant Variety Rights Office", "a vet"])
def test_the_cautions_defer_to_who_knows(anybody, authority):
    assert authority in anybody.get("/help/cautions").text
