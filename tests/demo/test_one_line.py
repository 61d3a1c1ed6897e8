"""No page and no paper of the demo lists the same variety and material twice for one person in one parcel."""

import re

import pytest

from exchange.actions.circle.season_file import season_file
from exchange.actions.posting.papers import all_papers
from exchange.papers.fill import labels_of
from exchange.records import LETTERS, MEMBERS, SHARE_OUTS
from tests.app_fixtures import Visitor
from tests.builders.demo import demo_site

NAMED = re.compile(
    r"(\d+) ([a-z ]+?)s? of ([A-Z][a-z ]* )?(‘[^’]+’)(, raised in heat|, raised cool|, hardened off)?"
)


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    with demo_site(tmp_path_factory.mktemp("one-line")) as made:
        yield made


@pytest.fixture(scope="module")
def papers(demo):
    _here, built = demo
    return [(entry, made) for entry, made in all_papers(built.settled.organiser, built.data.now)]


@pytest.fixture(scope="module")
def winifred(demo):
    here, built = demo
    with here.house.books.reading() as tx:
        return Visitor(here, MEMBERS.find(tx, built.settled.circle_id, first_name="Winifred"))


def plain(text):
    return re.sub(r"<[^>]+>", "", text).replace("&nbsp;", " ").replace("\xa0", " ")


def named(text):
    """Read out what a text says goes or comes: material, variety, how raised."""
    return [found[1:] for found in NAMED.findall(plain(text))]


def twice(things):
    return {one for one in things if things.count(one) > 1}


def test_slips_care_sheets_and_labels_name_each_kind_once(papers):
    doubled = 0
    for entry, made in papers:
        slip = [
            (one.variety, one.sent_as.replace("cuttings", "cutting")) for one in made.slip.lines
        ]
        assert not twice(slip), entry.code
        assert not twice(named(made.care_sheet.lead)), entry.code
        assert len({one.label for one in labels_of(made.facts)}) == len(slip), entry.code
        doubled += len(made.facts.contents) > len(made.facts.in_box)
    assert doubled, "without a parcel that holds a kind twice nothing is tried"


def test_pages_of_parcels_name_each_kind_once(papers, winifred):
    for entry, _made in papers:
        page = winifred.get(f"/parcels/{entry.id}").text
        inside = page[page.index('id="in-it"') :]
        seen = named(inside[: inside.index("</ul>")])
        assert seen, entry.code
        assert not twice(seen), entry.code


def test_the_plan_names_each_kind_once(demo):
    _here, built = demo
    for parcel in season_file(built.settled.organiser, built.data.now)["parcels"]:
        kinds = [(one["variety"], one["material"], one["raised"]) for one in parcel["lines"]]
        assert not twice(kinds), parcel["code"]


def test_letters_name_each_kind_once_in_what_comes_and_in_what_goes(demo):
    here, built = demo
    with here.house.books.reading() as tx:
        letters = LETTERS.all(tx, built.settled.circle_id)

    seen = 0
    for one in letters:
        for part in one.body.split("\n\n"):
            found = named(part)
            seen += len(found)
            assert not twice(found), one.body
    assert seen > 50


def test_the_share_out_names_each_kind_once_from_one_to_another(demo, winifred):
    here, built = demo
    with here.house.books.reading() as tx:
        (share_out,) = SHARE_OUTS.all(tx, built.settled.circle_id)
    page = winifred.get(f"/share-out/{share_out.id}").text
    start = page.index('id="giving"')
    table = page[start : page.index("</table>", start)]
    rows = [re.findall(r"<td[^>]*>(.*?)</td>|<th[^>]*>(.*?)</th>", one, re.DOTALL)
            for one in table.split("<tr")[2:]]  # fmt: skip
    lines = []
    for row in rows:
        name, _count, sent_as, sender, receiver, *_ = (plain("".join(cell)).strip() for cell in row)
        lines.append((name.split("’")[0], sent_as.replace("cuttings", "cutting"), sender, receiver))

    assert len(lines) > 50
    assert not twice(lines)
