"""Pages of a confirmed share-out are read as before after its varieties and members were made one with others."""

import pytest

from exchange.actions.growing.merge_varieties import merge
from exchange.actions.people.members import NewMember, add_member
from exchange.actions.people.merge_members import merge_into_member
from exchange.records import CLAIMS, SPARES
from tests.app_fixtures import NOW, Visitor, site
from tests.builders.shared import a_sharing


@pytest.fixture
def here(tmp_path):
    with site(tmp_path) as made:
        yield made


@pytest.fixture
def shared(here):
    """Winnie gave one to Cuthbert; Effie, who asked too, got none."""
    made = a_sharing(here.house)
    made.variety = made.name()
    made.spare = made.offer("Winnie", made.variety)
    made.met = made.ask("Cuthbert", made.variety, choice=1)
    made.lost = made.ask("Effie", made.variety, choice=3)
    made.all_of_it()
    return made


def pages(shared, visitor):
    paths = (
        f"/share-out/{shared.share_out_id}",
        "/share-out",
        f"/share-out/{shared.share_out_id}/working.json",
        "/claims/share-out",
        *(f"/claims/{one}/why" for one in (shared.met, shared.lost)),
        "/claims",
        "/parcels",
        "/spares",
        f"/spares/{shared.spare}",
        "/circle",
        "/who-did-what/everybody",
    )
    return {path: visitor.get(path).status_code for path in paths}


def test_every_page_opens_as_before(here, shared):
    visitor = Visitor(here, shared.ring["Winnie"])
    before = pages(shared, visitor)

    merge(shared.organiser, shared.variety, shared.name("Copper Pan"), NOW)
    again = add_member(shared.organiser, NewMember("Euphemia"), NOW)
    merge_into_member(shared.organiser, shared.ring["Cuthbert"].id, again, NOW)

    assert 200 in before.values()
    assert pages(shared, visitor) == before


def test_the_page_of_the_share_out_names_who_is_there_now(here, shared):
    again = add_member(shared.organiser, NewMember("Euphemia"), NOW)

    merge_into_member(shared.organiser, shared.ring["Cuthbert"].id, again, NOW)

    page = Visitor(here, shared.ring["Winnie"]).get(f"/share-out/{shared.share_out_id}").text
    assert "Euphemia" in page


def test_what_was_given_stands_with_the_one_kept(here, shared):
    again = add_member(shared.organiser, NewMember("Euphemia"), NOW)
    other = shared.name("Copper Pan")

    merge(shared.organiser, shared.variety, other, NOW)
    merge_into_member(shared.organiser, shared.ring["Cuthbert"].id, again, NOW)

    with here.house.books.reading() as tx:
        spare = SPARES.get(tx, shared.circle_id, shared.spare)
        claim = CLAIMS.get(tx, shared.circle_id, shared.met)
    assert spare.variety_id == claim.variety_id == other
    assert spare.allocated == 1
