"""Leaving: what only they hold is asked about, what was promised is ended, others keep what is theirs."""

import pytest

from exchange.actions.circle.leaving import Farewell, OnlyHolderLeavesError, leave, leaving_page
from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.page_varieties import varieties_page
from exchange.actions.growing.varieties import name_variety
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.people.members import (
    LastOrganiserError,
    NewMember,
    add_member,
    make_organiser,
)
from exchange.actions.posting.parcels import say_posted
from exchange.domain.growing.variety import Species
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, AWAY, BATCHES, CLAIMS, MEMBERS, PARCELS, SPARES, TASKS
from tests.app_fixtures import NOW, a_house, ring
from tests.web.walk import furnish

KNOWN = Farewell(known=True)


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        made = ring(house)
        furnish(made)
        yield made


def all_of(circle, noun, **where):
    with circle.house.books.reading() as tx:
        return noun.all(tx, circle.circle_id, **where)


def effie_leaves(circle, how=KNOWN):
    leave(circle.actor("Effie"), circle["Effie"].id, NOW, how)


def test_what_only_they_hold_is_named_and_asked_about_first(circle):
    page = leaving_page(circle.actor("Effie"), circle["Effie"].id)
    with pytest.raises(OnlyHolderLeavesError, match="Ash over Lowmoor") as refused:
        effie_leaves(circle, Farewell())

    assert [one.name for one in page.only_here] == ["Ash over Lowmoor"]
    assert refused.value.field == "known"
    assert all_of(circle, MEMBERS, id=circle["Effie"].id)[0].left_at is None


def test_what_others_hold_too_is_not_asked_about(circle):
    (variety,) = leaving_page(circle.actor("Effie"), circle["Effie"].id).only_here
    grow_too(circle.actor("Cuthbert"), NewBatch(variety.id, 1), NOW)

    effie_leaves(circle, Farewell())

    assert all_of(circle, MEMBERS, id=circle["Effie"].id)[0].left_at == NOW


def test_claims_spares_and_days_away_leave_with_the_last_of_a_household(circle):
    effie_leaves(circle)
    home = circle["Effie"].household_id

    assert all_of(circle, CLAIMS, household_id=home, withdrawn_at=None) == ()
    assert all_of(circle, SPARES, household_id=home, withdrawn_at=None) == ()
    assert all_of(circle, AWAY, household_id=home) == ()


def test_the_circle_no_longer_counts_their_plants(circle):
    effie_leaves(circle)
    lines = {one.variety.name: one for one in varieties_page(circle.actor("Winnie"), "", None, NOW)}

    assert lines["Ash over Lowmoor"].places == 0
    assert {
        one.plants
        for one in all_of(circle, BATCHES)
        if one.household_id == circle["Effie"].household_id
    } == {0}


def test_a_parcel_to_them_that_has_not_gone_is_no_more_and_its_plants_are_free(circle):
    effie_leaves(circle)
    (allocation,) = all_of(circle, ALLOCATIONS)
    (spare,) = all_of(circle, SPARES, id=allocation.spare_id)

    assert allocation.state is AllocationState.DECLINED
    assert (spare.allocated, spare.set_aside_for, spare.withdrawn_at) == (0, None, None)
    assert [one for one in all_of(circle, PARCELS) if one.closed_at is None] == []
    assert all_of(circle, TASKS, kind="plan")


def test_what_they_promised_could_not_be_sent(circle):
    winnie = circle.actor("Winnie")
    make_organiser(winnie, circle["Cuthbert"].id, True, NOW)
    leave(winnie, circle["Winnie"].id, NOW, KNOWN)

    (allocation,) = all_of(circle, ALLOCATIONS)
    assert allocation.state is AllocationState.FAILED


def test_a_parcel_on_its_way_is_left_to_come(circle):
    (parcel,) = all_of(circle, PARCELS)
    say_posted(circle.actor("Winnie"), parcel.id, NOW.date(), NOW)

    page = leaving_page(circle.actor("Effie"), circle["Effie"].id)
    effie_leaves(circle)

    assert page.on_their_way == 1
    assert all_of(circle, PARCELS)[0].state is ParcelState.POSTED


def test_while_somebody_stays_in_the_household_its_dealings_stay(circle):
    home = circle["Effie"].household_id
    add_member(circle.actor("Winnie"), NewMember("Tamsin", household_id=home), NOW)
    page = leaving_page(circle.actor("Effie"), circle["Effie"].id)

    effie_leaves(circle, Farewell())

    assert not page.alone
    assert page.only_here == ()
    assert all_of(circle, CLAIMS, household_id=home, withdrawn_at=None)


def test_the_only_organiser_stays(circle):
    with pytest.raises(LastOrganiserError):
        leave(circle.actor("Winnie"), circle["Winnie"].id, NOW, KNOWN)


def test_nobody_sees_or_makes_another_leave(circle):
    for act in (
        lambda: leaving_page(circle.actor("Effie"), circle["Cuthbert"].id),
        lambda: leave(circle.actor("Effie"), circle["Cuthbert"].id, NOW, KNOWN),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_a_variety_nobody_has_any_more_is_not_held(circle):
    variety = name_variety(circle.actor("Effie"), "Lowmoor Glow", Species.DAHLIA, NOW)
    grow_too(circle.actor("Effie"), NewBatch(variety.id, 0), NOW)

    assert variety.id not in {
        one.id for one in leaving_page(circle.actor("Effie"), circle["Effie"].id).only_here
    }
