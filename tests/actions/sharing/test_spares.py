"""Listing, changing and withdrawing spares."""

from datetime import date, timedelta

import pytest

from exchange.actions.growing.batches import NotOwnPlaceError
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.set_aside import SetAsideRefusedError
from exchange.actions.sharing.spare_withdrawal import put_back, release_held, withdraw_spare
from exchange.actions.sharing.spares import change_spare, list_spare
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, BATCHES, CLAIMS, DEEDS, PLACES, SPARES, NotHereError
from tests.app_fixtures import NOW
from tests.builders.offers import (
    TODAY,
    a_batch,
    a_claim,
    a_ring,
    a_spare,
    a_variety,
    give,
    new_spare,
    protect,
    row,
    rows,
)


def household(circle, who):
    return circle[who].household_id


def test_listing_a_spare_makes_the_batch_it_comes_from(circle):
    spare = row(circle, SPARES, a_spare(circle, count=3))

    (batch,) = rows(circle, BATCHES)
    assert (batch.id, batch.plants) == (spare.batch_id, 3)


def test_unrooted_cuttings_stand_for_one_mother_plant(circle):
    a_spare(circle, material=Material.UNROOTED, count=40)

    (batch,) = rows(circle, BATCHES)
    assert (batch.plants, batch.material) == (1, Material.YOUNG_PLANT)


def test_a_batch_that_has_died_out_does_not_hide_new_plants(circle):
    variety_id = a_variety(circle)
    a_batch(circle, variety_id=variety_id, plants=0)

    a_spare(circle, variety_id=variety_id, count=2)

    assert sum(batch.plants for batch in rows(circle, BATCHES)) == 2


@pytest.mark.parametrize("count", [0, -1, 10**9])
def test_a_number_that_cannot_be_is_refused_beside_its_field(circle, count):
    with pytest.raises(RefusedError) as refused:
        a_spare(circle, count=count)

    assert refused.value.field == "count"
    assert rows(circle, SPARES) == ()


@pytest.mark.parametrize(
    ("ready_from", "send_by", "field"),
    [
        (date(2027, 5, 2), date(2027, 5, 1), "send_by"),
        (date(2027, 3, 1), date(2027, 4, 4), "send_by"),
        (date(2027, 4, 5), date(9999, 12, 31), "send_by"),
        (date(1, 1, 1), date(2027, 5, 1), "ready_from"),
    ],
)
def test_days_that_make_no_sense_are_refused(circle, ready_from, send_by, field):
    with pytest.raises(RefusedError) as refused:
        a_spare(circle, ready_from=ready_from, send_by=send_by)

    assert refused.value.field == field


def test_a_spare_ready_and_sent_on_one_day_is_taken(circle):
    assert a_spare(circle, ready_from=TODAY, send_by=TODAY)


def test_seed_holds_no_named_variety(circle):
    with pytest.raises(RefusedError) as refused:
        a_spare(circle, material=Material.SEED)

    assert refused.value.field == "material"


def test_nobody_has_looked_plants_over_tomorrow(circle):
    with pytest.raises(RefusedError) as refused:
        a_spare(circle, health_by="Cuthbert", health_on=TODAY + timedelta(days=1))

    assert refused.value.field == "health_on"


def test_a_place_of_another_household_is_refused_beside_its_field(circle):
    with pytest.raises(NotOwnPlaceError):
        a_spare(circle, place_id=circle.place("Effie").id)


def test_another_member_cannot_change_or_withdraw_a_spare(circle):
    spare_id = a_spare(circle)
    spare = row(circle, SPARES, spare_id)

    with pytest.raises(NotAllowedError):
        change_spare(circle.actor("Effie"), spare_id, new_spare(spare.variety_id), NOW)
    with pytest.raises(NotAllowedError):
        withdraw_spare(circle.actor("Effie"), spare_id, NOW)

    assert row(circle, SPARES, spare_id) == spare


def test_a_spare_cannot_become_a_variety_of_another_circle(house, circle):
    spare_id = a_spare(circle)
    other = a_ring(house)

    with pytest.raises(NotHereError):
        change_spare(circle.actor("Cuthbert"), spare_id, new_spare(a_variety(other)), NOW)


def test_what_is_promised_cannot_be_taken_back_by_a_change(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id, count=3)
    give(circle, spare_id, a_claim(circle, variety_id=variety_id, asked=2), 2)

    for change, field in (
        (new_spare(variety_id, count=1), "count"),
        (new_spare(variety_id, material=Material.CLUMP), "material"),
    ):
        with pytest.raises(RefusedError) as refused:
            change_spare(circle.actor("Cuthbert"), spare_id, change, NOW)
        assert refused.value.field == field
    with pytest.raises(RefusedError):
        withdraw_spare(circle.actor("Cuthbert"), spare_id, NOW)

    change_spare(circle.actor("Cuthbert"), spare_id, new_spare(variety_id, count=2), NOW)
    assert row(circle, SPARES, spare_id).count == 2


def test_a_withdrawn_spare_comes_back_by_undo(circle):
    spare_id = a_spare(circle)
    cuthbert = circle.actor("Cuthbert")

    withdraw_spare(cuthbert, spare_id, NOW)
    gone = row(circle, SPARES, spare_id).withdrawn_at
    put_back(cuthbert, spare_id, NOW)

    assert gone is not None
    assert row(circle, SPARES, spare_id).withdrawn_at is None


def test_a_protected_variety_is_held_until_the_organiser_lets_it_go(circle):
    variety_id = a_variety(circle)
    protect(circle, variety_id)
    spare_id = a_spare(circle, variety_id=variety_id)

    assert row(circle, SPARES, spare_id).held
    with pytest.raises(NotAllowedError):
        release_held(circle.actor("Cuthbert"), spare_id, NOW)
    release_held(circle.actor("Winnie"), spare_id, NOW)
    assert not row(circle, SPARES, spare_id).held


def test_a_spare_changed_into_a_protected_variety_is_held(circle):
    spare_id = a_spare(circle)
    other = a_variety(circle, "Copper Psalm")
    protect(circle, other)

    change_spare(circle.actor("Cuthbert"), spare_id, new_spare(other), NOW)

    assert row(circle, SPARES, spare_id).held


def test_what_is_set_aside_is_claimed_and_allocated_at_once(circle):
    spare_id = a_spare(circle, set_aside_for=household(circle, "Effie"))

    (claim,) = rows(circle, CLAIMS)
    (allocation,) = rows(circle, ALLOCATIONS)
    assert (claim.household_id, claim.asked, claim.set_aside) == (
        household(circle, "Effie"),
        3,
        True,
    )
    assert (allocation.spare_id, allocation.count, allocation.state) == (
        spare_id,
        3,
        AllocationState.AGREED,
    )
    assert row(circle, SPARES, spare_id).allocated == 3


def test_taking_back_what_was_set_aside_frees_it_and_undo_sets_it_aside_again(circle):
    spare_id = a_spare(circle, set_aside_for=household(circle, "Effie"))
    cuthbert = circle.actor("Cuthbert")

    withdraw_spare(cuthbert, spare_id, NOW)
    freed = row(circle, SPARES, spare_id)
    put_back(cuthbert, spare_id, NOW)

    assert freed.allocated == 0
    assert rows(circle, CLAIMS)[0].withdrawn_at is not None
    assert row(circle, SPARES, spare_id).allocated == 3


def test_a_change_moves_what_is_set_aside_to_another_member(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id, set_aside_for=household(circle, "Effie"))

    moved = new_spare(variety_id, count=2, set_aside_for=household(circle, "Winnie"))
    change_spare(circle.actor("Cuthbert"), spare_id, moved, NOW)

    standing = rows(circle, ALLOCATIONS, state=AllocationState.AGREED)
    open_claims = rows(circle, CLAIMS, withdrawn_at=None)
    assert [one.count for one in standing] == [2]
    assert [one.household_id for one in open_claims] == [household(circle, "Winnie")]


def test_nothing_is_set_aside_for_oneself_or_while_it_is_held(circle):
    variety_id = a_variety(circle)
    with pytest.raises(SetAsideRefusedError):
        a_spare(circle, variety_id=variety_id, set_aside_for=household(circle, "Cuthbert"))
    protect(circle, variety_id)
    with pytest.raises(SetAsideRefusedError) as refused:
        a_spare(circle, variety_id=variety_id, set_aside_for=household(circle, "Effie"))

    assert "Plant Variety Rights Office" in str(refused.value)
    assert rows(circle, SPARES) == ()


def test_a_border_blocks_setting_aside_and_names_the_authority(circle):
    with circle.house.books.writing() as tx:
        place = circle.place("Effie")
        PLACES.change(tx, circle.circle_id, place.id, country="GB", subdivision="NIR")

    with pytest.raises(SetAsideRefusedError) as refused:
        a_spare(circle, set_aside_for=household(circle, "Effie"))

    assert "DAERA" in str(refused.value)
    assert rows(circle, SPARES) == ()


def test_the_organiser_lists_for_a_member_and_it_is_written_down(circle):
    effie = circle["Effie"]
    acting = circle.actor("Winnie").for_member(effie.id, effie.household_id)

    spare_id = list_spare(acting, new_spare(a_variety(circle)), NOW)

    spare = row(circle, SPARES, spare_id)
    deed = rows(circle, DEEDS)[-1]
    assert (spare.household_id, spare.entered_by) == (effie.household_id, circle["Winnie"].id)
    assert (deed.act, deed.for_member_id) == ("listed a spare", effie.id)
