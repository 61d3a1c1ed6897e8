"""Parcels for lists: all but the plan, in order, of one circle, by the columns asked for."""

from dataclasses import replace

import pytest

from exchange.domain.posting.parcel import ParcelState
from exchange.records import PARCELS, PLACES
from exchange.records.parcel_heads import heads
from tests.app_fixtures import NOW


@pytest.fixture
def parcel(tx):
    """Give a function that keeps a parcel from the first household of a circle to its last."""

    def keep(ring, code, **said):
        places = PLACES.all(tx, ring.circle_id)
        sender, receiver = places[0], places[-1]
        return PARCELS.add(
            tx, ring.circle_id, code=code, reasons=("mild",), plan={"days": [1, 2]},
            sender_household_id=sender.household_id, sender_place_id=sender.id,
            receiver_household_id=receiver.household_id, receiver_place_id=receiver.id,
            changed_at=NOW, **said,
        )  # fmt: skip

    return keep


def test_a_head_is_the_parcel_without_its_plan(tx, circle, parcel):
    number = parcel(circle, "Bramble 1", held=True)

    whole = PARCELS.get(tx, circle.circle_id, number)
    assert heads(tx, circle.circle_id) == (replace(whole, plan={}),)
    assert whole.plan


def test_only_the_circles_own_are_given_in_the_order_they_were_made(tx, circle, other, parcel):
    numbers = [parcel(circle, f"Bramble {9 - n}") for n in range(3)]
    parcel(other, "Bramble 1")

    assert [one.id for one in heads(tx, circle.circle_id)] == numbers


def test_heads_are_asked_for_by_value_or_by_one_of_several(tx, circle, parcel):
    held = parcel(circle, "Bramble 1", held=True)
    posted = parcel(circle, "Bramble 2", state=ParcelState.POSTED)

    def found(**where):
        return [one.id for one in heads(tx, circle.circle_id, **where)]

    assert found(held=True) == [held]
    assert found(state=ParcelState.POSTED) == [posted]
    assert found(state={ParcelState.PLANNED, ParcelState.POSTED}, held=False) == [posted]
