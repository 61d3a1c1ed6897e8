"""A member entered twice: what moves, that it is undone exactly, and what stands in the way."""

from datetime import date, timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.letters import write
from exchange.actions.kernel.links import Purpose, make_link
from exchange.actions.kernel.mergers import UNDONE_WITHIN, MergeRefusedError, UndoRefusedError
from exchange.actions.people.away import NewAway, go_away
from exchange.actions.people.households import AddressTerms, set_address
from exchange.actions.people.members import NewMember, add_member, invite
from exchange.actions.people.merge_members import (
    merge_into_member,
    merge_members_page,
    unmerge_member,
)
from exchange.actions.posting.calendars import CalendarKind, new_address
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.spares import list_spare
from exchange.domain.posting.parcel import ParcelState
from exchange.records import (
    AWAY,
    BATCHES,
    CALENDARS,
    CLAIMS,
    HOUSEHOLDS,
    LETTERS,
    MEMBERS,
    PARCELS,
    PLACES,
    SPARES,
    accounts,
    links,
)
from exchange.words.kernel.letters import LetterText
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import (
    a_batch,
    a_claim,
    a_spare,
    a_variety,
    give,
    new_spare,
    row,
    rows,
)

RECORD_OF_ACTS = {"deed", "task", "merger", "circle"}
"""What an undo leaves different: who did what, what was asked for, the stamp of the circle."""


@pytest.fixture
def twice(circle):
    """Give a circle in which Effie was entered as Cuthbert too, with something of everything."""
    kept, merged = circle["Effie"], circle["Cuthbert"]
    wanted, other = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    a_batch(circle, "Cuthbert", other)
    spare_id = a_spare(circle, "Cuthbert", other)
    give(circle, spare_id, a_claim(circle, "Winnie", other))
    for who in ("Effie", "Cuthbert"):
        a_claim(circle, who, wanted)
    go_away(circle.actor("Cuthbert"), NewAway(date(2027, 5, 1), date(2027, 5, 4)), NOW)
    set_address(circle.actor("Cuthbert"), AddressTerms("9 Tin Lane", "shed", True), NOW)
    new_address(circle.actor("Cuthbert"), CalendarKind.MEMBER, NOW)
    replan(circle.actor("Winnie"), NOW)
    return circle, kept, merged


def everything(circle):
    return {
        name: table
        for name, table in dump(circle.house.books).items()
        if name not in RECORD_OF_ACTS
    }


def made_one(circle, kept, merged):
    return merge_into_member(circle.actor("Winnie"), merged.id, kept.id, NOW)


def test_all_that_was_the_ones_is_the_others(twice):
    circle, kept, merged = twice

    made_one(circle, kept, merged)

    for repository in (PLACES, BATCHES, SPARES, CLAIMS, AWAY):
        assert rows(circle, repository, household_id=merged.household_id) == ()
        assert rows(circle, repository, household_id=kept.household_id)
    assert rows(circle, CALENDARS, member_id=merged.id) == ()
    assert rows(circle, PARCELS)[0].sender_household_id == kept.household_id


def test_the_one_leaves_and_leads_to_the_other(twice):
    circle, kept, merged = twice

    made_one(circle, kept, merged)

    gone, household = row(circle, MEMBERS, merged.id), row(circle, HOUSEHOLDS, merged.household_id)
    assert (gone.left_at, gone.merged_into) == (NOW, kept.id)
    assert (household.left_on, household.merged_into) == (date(2027, 4, 5), kept.household_id)


def test_what_the_one_said_fills_what_the_other_left_empty(twice):
    circle, kept, merged = twice
    with circle.house.books.writing() as tx:
        MEMBERS.change(tx, circle.circle_id, merged.id, telephone="01632 960999", surname="Pellow")
        MEMBERS.change(tx, circle.circle_id, kept.id, surname="Pellew")

    made_one(circle, kept, merged)

    now, household = row(circle, MEMBERS, kept.id), row(circle, HOUSEHOLDS, kept.household_id)
    assert (now.telephone, now.surname) == ("01632 960999", "Pellew")
    assert (household.address, household.safe_place) == ("9 Tin Lane", "shed")
    assert household.return_address_allowed


def test_leave_to_print_an_address_does_not_pass_to_another_address(twice):
    circle, kept, merged = twice
    set_address(circle.actor("Effie"), AddressTerms("1 Copper Row"), NOW)

    made_one(circle, kept, merged)

    household = row(circle, HOUSEHOLDS, kept.household_id)
    assert (household.address, household.return_address_allowed) == ("1 Copper Row", False)


def test_two_places_of_one_name_are_told_apart(twice):
    circle, kept, merged = twice

    made_one(circle, kept, merged)

    names = [one.name for one in rows(circle, PLACES, household_id=kept.household_id)]
    assert sorted(names) == ["home", "home, Ludlow"]


def test_a_claim_made_under_both_names_stands_once(twice):
    circle, kept, merged = twice

    page = merge_members_page(circle.actor("Winnie"), merged.id, kept.id, NOW)
    made_one(circle, kept, merged)

    standing = rows(circle, CLAIMS, household_id=kept.household_id, withdrawn_at=None)
    assert page.doubled == 1
    assert len(standing) == 1


def test_what_is_shown_first_is_what_moves(twice):
    circle, kept, merged = twice

    page = merge_members_page(circle.actor("Winnie"), merged.id, kept.id, NOW)

    told = {noun: page.moving[noun] for noun in ("place", "batch", "spare", "claim", "away")}
    assert told == {"place": 1, "batch": 1, "spare": 1, "claim": 1, "away": 1}
    assert page.moving["calendar_address"] == 1
    assert page.moving["parcel"] == 1


def test_undo_puts_every_table_back_as_it_was(twice):
    circle, kept, merged = twice
    before = everything(circle)

    merger_id = made_one(circle, kept, merged)
    assert everything(circle) != before
    unmerge_member(circle.actor("Winnie"), merger_id, NOW + UNDONE_WITHIN)

    assert everything(circle) == before


def test_it_can_be_undone_after_the_plan_was_made_anew(twice):
    circle, kept, merged = twice
    merger_id = made_one(circle, kept, merged)

    replan(circle.actor("Winnie"), NOW)
    unmerge_member(circle.actor("Winnie"), merger_id, NOW)
    replan(circle.actor("Winnie"), NOW)

    (parcel,) = rows(circle, PARCELS)
    assert parcel.sender_household_id == merged.household_id
    assert parcel.state is ParcelState.PLANNED


def test_after_a_month_or_when_plants_were_promised_since_it_stands(twice):
    circle, kept, merged = twice
    merger_id = made_one(circle, kept, merged)

    with pytest.raises(UndoRefusedError, match="30 days"):
        unmerge_member(
            circle.actor("Winnie"), merger_id, NOW + UNDONE_WITHIN + timedelta(seconds=1)
        )
    spare = rows(circle, SPARES, household_id=kept.household_id)[0]
    give(circle, spare.id, a_claim(circle, "Winnie", spare.variety_id))
    with pytest.raises(UndoRefusedError, match="promised since"):
        unmerge_member(circle.actor("Winnie"), merger_id, NOW)


def test_who_has_a_sign_in_goes_on_with_it(circle):
    kept_id = add_member(circle.actor("Winnie"), NewMember("Effie"), NOW)
    with circle.house.books.writing() as tx:
        account_id = accounts.add(tx, "effie@example.org", "x", NOW)
        MEMBERS.change(
            tx,
            circle.circle_id,
            circle["Effie"].id,
            account_id=account_id,
            email="effie@example.org",
        )
    before = everything(circle)

    merger_id = merge_into_member(circle.actor("Winnie"), circle["Effie"].id, kept_id, NOW)
    now = row(circle, MEMBERS, kept_id)
    unmerge_member(circle.actor("Winnie"), merger_id, NOW)

    assert (now.account_id, now.email) == (account_id, "effie@example.org")
    assert everything(circle) == before


def test_an_invitation_of_the_one_no_longer_lets_anybody_in(circle):
    invited = invite(circle.actor("Winnie"), NewMember("Effie", email="e@example.org"), NOW)

    merge_into_member(circle.actor("Winnie"), invited.member.id, circle["Effie"].id, NOW)

    with circle.house.books.reading() as tx:
        assert links.open_links_of(tx, invited.member.id) == ()
        assert links.open_links_of(tx, circle["Effie"].id) == ()


def test_a_letter_that_was_not_read_yet_and_its_answer_go_to_the_one_kept(circle):
    with circle.house.books.writing() as tx:
        make_link(tx, circle.house, circle["Cuthbert"], Purpose.DID_IT_GO, NOW, 7)
        write(
            tx,
            circle.house,
            circle["Cuthbert"],
            LetterText("Did it go?", "Say so."),
            "asked:7",
            NOW,
        )

    made_one(circle, circle["Effie"], circle["Cuthbert"])

    assert [one.subject for one in rows(circle, LETTERS, member_id=circle["Effie"].id)] == [
        "Did it go?"
    ]
    with circle.house.books.reading() as tx:
        assert len(links.open_links_of(tx, circle["Effie"].id)) == 1


def test_where_somebody_else_still_lives_there_their_things_stay(twice):
    circle, kept, merged = twice
    new = NewMember("Odo", household_id=merged.household_id)
    add_member(circle.actor("Winnie"), new, NOW)

    page = merge_members_page(circle.actor("Winnie"), merged.id, kept.id, NOW)
    made_one(circle, kept, merged)

    assert page.stays == ("Odo",)
    assert len(rows(circle, SPARES, household_id=merged.household_id)) == 1
    assert row(circle, HOUSEHOLDS, merged.household_id).merged_into is None


def test_two_who_promised_each_other_plants_are_no_one(twice):
    circle, kept, merged = twice
    give(circle, a_spare(circle, "Cuthbert"), a_claim(circle, "Effie"))

    with pytest.raises(MergeRefusedError, match="promised to the other"):
        made_one(circle, kept, merged)
    page = merge_members_page(circle.actor("Winnie"), merged.id, kept.id, NOW)
    assert "promised to the other" in page.in_the_way


def test_two_who_post_to_each_other_are_no_one(twice):
    circle, kept, merged = twice
    list_spare(
        circle.actor("Cuthbert"),
        new_spare(a_variety(circle), set_aside_for=kept.household_id),
        NOW,
    )
    replan(circle.actor("Winnie"), NOW)

    with pytest.raises(MergeRefusedError, match="from the one to the other"):
        made_one(circle, kept, merged)


def test_nobody_merges_themselves_away_or_one_who_left(circle):
    winnie, effie = circle["Winnie"], circle["Effie"]

    for merged, kept in ((winnie, effie), (effie, effie)):
        with pytest.raises(MergeRefusedError):
            merge_into_member(circle.actor("Winnie"), merged.id, kept.id, NOW)
    made_one(circle, effie, circle["Cuthbert"])
    with pytest.raises(MergeRefusedError, match="has left"):
        made_one(circle, effie, circle["Cuthbert"])


def test_only_the_organiser_makes_two_members_one(twice):
    circle, kept, merged = twice

    with pytest.raises(NotAllowedError):
        merge_into_member(circle.actor("Effie"), merged.id, kept.id, NOW)


@pytest.mark.parametrize("step", ["note", "ask", "record_merger"])
def test_it_is_kept_whole_or_not_at_all(twice, step, monkeypatch):
    circle, kept, merged = twice
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.people.merge_members.{step}")

    with pytest.raises(BrokenError):
        made_one(circle, kept, merged)

    assert dump(circle.house.books) == before
