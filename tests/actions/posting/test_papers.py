"""Papers of a parcel: who sees what on them, bundles, labels."""

from dataclasses import replace

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.people.households import AddressTerms, set_address
from exchange.actions.posting.papers import (
    LABEL_SHEETS,
    LabelsWanted,
    NothingToPrintError,
    household_papers,
    papers_of,
    printed,
    printed_labels,
    printed_one,
    without_addresses,
)
from exchange.actions.posting.parcels import not_posted, say_posted
from tests.app_fixtures import NOW, a_house
from tests.builders.season import MONDAY, a_season, tell_weather

EFFIES, WINNIES = "9 Hidden Lane\nInverness", "4 Gooseturn Row\nLudlow"


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    with a_house(tmp_path_factory.mktemp("papers")) as house:
        made = a_season(house, members=("Winnie", "Cuthbert", "Effie", "Odo"))
        set_address(made.ring.actor("Effie"), AddressTerms(EFFIES, "the shed"), NOW)
        set_address(
            made.ring.actor("Winnie"), AddressTerms(WINNIES, "", return_address_allowed=True), NOW
        )
        tell_weather(made, NOW)
        made.plan()
        yield made


def test_the_senders_slip_bears_the_address_with_the_full_name(season, parcel):
    slip = papers_of(season.ring.actor("Winnie"), parcel.id, NOW).slip
    assert slip.address == ("Effie Pellow", "9 Hidden Lane", "Inverness")
    assert slip.return_address == ("Winnie Pellow", "4 Gooseturn Row", "Ludlow")
    assert "shed" not in repr(slip)


def test_who_has_not_shown_who_they_are_sees_no_address(season, parcel):
    papers = without_addresses(papers_of(season.ring.actor("Winnie"), parcel.id, NOW))
    assert (papers.slip.address, papers.slip.return_address) == ((), ())
    assert papers.slip.lines


def test_a_third_member_sees_no_papers(season, parcel):
    with pytest.raises(NotAllowedError):
        papers_of(season.ring.actor("Cuthbert"), parcel.id, NOW)


def test_slip_and_page_tell_the_day_of_the_plan(season, parcel):
    slip = papers_of(season.ring.actor("Winnie"), parcel.id, NOW).slip
    assert slip.when.startswith("Post on Tue\u00a06\u00a0April by ")
    assert sum(line.count for line in slip.lines) == 1


def test_a_bundle_holds_what_the_household_still_has_to_post(season, parcel):
    winnie = season.ring.actor("Winnie")
    codes = [entry.code for entry, _papers in household_papers(winnie, NOW)]
    assert sorted(codes) == sorted(one.code for one in season.parcels())
    assert household_papers(season.ring.actor("Effie"), NOW) == ()

    say_posted(winnie, parcel.id, MONDAY, NOW)
    left = [entry.code for entry, _papers in household_papers(winnie, NOW)]
    not_posted(winnie, parcel.id, NOW)
    assert parcel.code not in left


def test_only_the_organiser_prints_anothers_bundle(season):
    household = season.ring["Winnie"].household_id
    with pytest.raises(NotAllowedError):
        household_papers(season.ring.actor("Effie"), NOW, household)
    organiser = replace(season.ring.actor("Odo"), organiser=True)
    assert len(household_papers(organiser, NOW, household)) == 2


def test_the_same_papers_print_to_the_same_bytes(season, parcel):
    papers = papers_of(season.ring.actor("Winnie"), parcel.id, NOW)
    for page in ("a4", "letter"):
        assert printed((papers,), page) == printed((papers,), page)
        assert printed_one(papers.slip, page).startswith(b"%PDF")


@pytest.mark.parametrize("sheet", sorted(LABEL_SHEETS))
def test_every_known_sheet_of_labels_can_be_printed(season, parcel, sheet):
    papers = papers_of(season.ring.actor("Winnie"), parcel.id, NOW)
    assert printed_labels((papers,), LabelsWanted(sheet, used=3)).startswith(b"%PDF")


def test_nothing_to_print_is_said_in_a_sentence(season, parcel):
    papers = papers_of(season.ring.actor("Winnie"), parcel.id, NOW)
    with pytest.raises(NothingToPrintError):
        printed((), "a4")
    with pytest.raises(NothingToPrintError):
        printed_labels((papers,), LabelsWanted("no such sheet"))
    with pytest.raises(NothingToPrintError, match="At most"):
        printed_labels((papers,) * 301, LabelsWanted("a4-21"))
