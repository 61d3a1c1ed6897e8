"""A member set up for them in one deed: town, address, telephone, shelters."""

import pytest

from exchange.actions.growing.setting_up import (
    HasItsOwnError,
    NoTownYetError,
    SetUp,
    add_set_up,
    set_up_member,
    set_up_page,
)
from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.people.households import AddressTerms, TermsRefusedError, set_address
from exchange.actions.people.members import MemberNameRefusedError, NewMember
from exchange.actions.people.towns import TownNotFoundError, TownWanted
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import DEEDS, HOUSEHOLDS, MEMBERS, PLACES, SHELTERS
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import row, rows

COLD, HEATED = ShelterKind.COLD, ShelterKind.HEATED


def said(town="", address="", telephone="", *shelters):
    return SetUp(TownWanted(town), address, telephone, frozenset(shelters))


def set_up(circle, terms, **more):
    return set_up_member(circle.actor("Winnie"), circle["Effie"].id, terms, NOW, **more)


def shelters(circle, member):
    places = {one.id for one in rows(circle, PLACES) if one.household_id == member.household_id}
    return {one.kind: one.room_pots for one in rows(circle, SHELTERS) if one.place_id in places}


def towns(circle, member):
    return [one.town for one in rows(circle, PLACES) if one.household_id == member.household_id]


def test_somebody_new_is_in_the_circle_with_all_that_is_known(circle):
    terms = said("Oban", "1 Pier Road\n\nOban", "01632 960111", COLD, HEATED)
    odo = add_set_up(circle.actor("Winnie"), NewMember("Odo", "Tarn"), terms, NOW)

    household = row(circle, HOUSEHOLDS, odo.household_id)
    assert (towns(circle, odo), household.address) == (["Oban"], "1 Pier Road\nOban")
    assert row(circle, MEMBERS, odo.id).telephone == "01632 960111"
    assert shelters(circle, odo) == {COLD: None, HEATED: None}
    assert household.joined_on == NOW.date()


def test_a_name_alone_is_enough(circle):
    odo = add_set_up(circle.actor("Winnie"), NewMember("Odo"), said(), NOW)

    assert (towns(circle, odo), shelters(circle, odo)) == ([], {})


def test_who_shares_a_household_takes_its_town_address_and_shelters(circle):
    home = circle["Effie"].household_id
    add_set_up(circle.actor("Winnie"), NewMember("Odo", household_id=home), said(), NOW)
    with pytest.raises(HasItsOwnError):
        add_set_up(circle.actor("Winnie"), NewMember("Hob", household_id=home), said("Oban"), NOW)
    with pytest.raises(MemberNameRefusedError, match="Choose one of these"):
        add_set_up(circle.actor("Winnie"), NewMember("Hob", household_id=999), said(), NOW)

    assert towns(circle, circle["Effie"]) == ["Ludlow"]
    assert not [one for one in rows(circle, MEMBERS) if one.first_name == "Hob"]


def test_a_member_is_set_up_in_one_deed_and_each_change_is_noted_as_for_them(circle):
    set_up(circle, said("Oban", "1 Pier Road", "01632 960111", COLD))

    effie = circle["Effie"]
    acts = [one.act for one in rows(circle, DEEDS) if one.for_member_id == effie.id]
    assert (towns(circle, effie), shelters(circle, effie)) == (["Oban"], {COLD: None})
    assert acts == [
        "changed a place",
        "told of a shelter",
        "changed the address",
        "changed name or telephone",
    ]


def test_what_is_not_changed_is_not_noted_and_an_empty_town_moves_nobody(circle):
    set_up(circle, said("Oban", "1 Pier Road", "", COLD))
    before = len(rows(circle, DEEDS))

    set_up(circle, said("", "1 Pier Road", "", COLD))

    assert len(rows(circle, DEEDS)) == before
    assert towns(circle, circle["Effie"]) == ["Oban"]


def test_the_room_said_of_a_shelter_stays_and_one_no_longer_ticked_goes(circle):
    effie = circle.actor("Effie")
    place = circle.place("Effie").id
    set_shelter(effie, NewShelter(place, COLD, 24), NOW)
    set_shelter(effie, NewShelter(place, HEATED, 8), NOW)

    set_up(circle, said("", "", "", COLD, ShelterKind.INDOORS))

    assert shelters(circle, circle["Effie"]) == {COLD: 24, ShelterKind.INDOORS: None}


def test_a_shelter_without_a_town_is_refused_and_nothing_is_kept(circle):
    before = dump(circle.house.books)
    with pytest.raises(NoTownYetError):
        add_set_up(circle.actor("Winnie"), NewMember("Odo"), said("", "", "", COLD), NOW)
    with pytest.raises(TownNotFoundError):
        set_up(circle, said("Xyzzyton"))
    with pytest.raises(TermsRefusedError):
        set_up(circle, said("", "x" * 401))

    assert dump(circle.house.books) == before


def test_the_second_of_two_is_told_whichever_part_the_first_changed(circle):
    page = set_up_page(circle.actor("Winnie"), circle["Effie"].id)
    set_address(circle.actor("Effie"), AddressTerms("2 Loch Road"), NOW)

    with pytest.raises(EditedMeanwhileError):
        set_up(circle, said("", "1 Pier Road"), opened=page.version)


def test_those_not_set_up_yet_follow_one_another(circle):
    winnie, first = circle.actor("Winnie"), circle["Winnie"].id
    for name in ("Winnie", "Cuthbert"):
        terms = said("", "1 Pier Road", "", COLD)
        set_up_member(winnie, circle[name].id, terms, NOW)

    assert set_up_page(winnie, first).following == circle["Effie"]
    assert set_up_page(winnie, circle["Effie"].id).following is None


def test_only_the_organiser_sets_others_up(circle):
    effie, other = circle.actor("Effie"), circle["Cuthbert"].id
    acts = [
        lambda: set_up_page(effie, other),
        lambda: set_up_member(effie, other, said(), NOW),
        lambda: add_set_up(effie, NewMember("Odo"), said(), NOW),
    ]

    for act in acts:
        with pytest.raises(NotAllowedError):
            act()


@pytest.mark.parametrize("step", ["record_town", "record_shelters", "note"])
def test_broken_in_the_middle_nothing_of_it_is_kept(circle, monkeypatch, step):
    before = dump(circle.house.books)

    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.growing.setting_up.{step}")
        with pytest.raises(BrokenError):
            set_up(circle, said("Oban", "1 Pier Road", "01632 960111", COLD))

    assert dump(circle.house.books) == before
