"""What is set aside: for whom, how much at most, and until it is on its way."""

from datetime import timedelta
from types import SimpleNamespace

import pytest

from exchange.actions.sharing import set_aside as module
from exchange.actions.sharing.set_aside import (
    BorderBlockedError,
    OnTheirWayError,
    SetAsideRefusedError,
    set_aside,
)
from exchange.actions.sharing.spare_withdrawal import put_back, withdraw_spare
from exchange.domain.circle.border import Passage
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import AllocationState
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    PARCEL_LINES,
    PARCELS,
    PLACES,
    SPARES,
    NotHereError,
)
from tests.app_fixtures import NOW
from tests.builders.offers import a_spare, a_variety, row, rows


@pytest.fixture
def effie(circle):
    return circle["Effie"].household_id


def a_place(circle, household_id, **said):
    with circle.house.books.writing() as tx:
        first = PLACES.find(tx, circle.circle_id, household_id=household_id)
        return PLACES.add(
            tx, circle.circle_id, household_id=household_id, name="allotment", town="Ludlow",
            county="Shropshire", country="GB", subdivision="ENG", latitude=52.4,
            longitude=first.longitude, zone="Europe/London", **said,
        )  # fmt: skip


def moved(circle, place_id, subdivision, country="GB"):
    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place_id, country=country, subdivision=subdivision)


def in_a_parcel(circle, state):
    """Put all that was allocated into a parcel, and give its number."""
    (one,) = rows(circle, ALLOCATIONS)
    sender, receiver = circle.place("Cuthbert"), circle.place("Effie")
    with circle.house.books.writing() as tx:
        parcel_id = PARCELS.add(
            tx, circle.circle_id, code="Bramble 1", state=state, reasons=(), plan={},
            sender_household_id=sender.household_id, sender_place_id=sender.id,
            receiver_household_id=receiver.household_id, receiver_place_id=receiver.id,
            changed_at=NOW,
        )  # fmt: skip
        PARCEL_LINES.add(
            tx, circle.circle_id, parcel_id=parcel_id, allocation_id=one.id, count=one.count
        )
    return parcel_id


def test_the_claim_and_the_allocation_say_what_the_spare_is(circle, effie):
    variety = a_variety(circle)
    spare = row(circle, SPARES, a_spare(circle, variety_id=variety, count=2, set_aside_for=effie))

    (claim,), (one,) = rows(circle, CLAIMS), rows(circle, ALLOCATIONS)
    assert (claim.variety_id, claim.choice, claim.materials, claim.made_at) == (
        variety, 1, frozenset({spare.material}), NOW,
    )  # fmt: skip
    assert (claim.place_id, claim.entered_by) == (circle.place("Effie").id, spare.entered_by)
    assert (one.claim_id, one.share_out_id, one.count, one.made_at) == (claim.id, None, 2, NOW)
    assert spare.set_aside_for == effie


def test_a_hundred_plants_can_be_set_aside_and_not_one_more(circle, effie):
    variety = a_variety(circle)

    spare = a_spare(circle, variety_id=variety, count=100, set_aside_for=effie)
    with pytest.raises(SetAsideRefusedError, match="At most 100") as refused:
        a_spare(circle, variety_id=variety, count=101, set_aside_for=effie)

    assert refused.value.field == "set_aside_for"
    assert [one.id for one in rows(circle, SPARES)] == [spare]


@pytest.mark.parametrize("state", [ParcelState.PLANNED, ParcelState.ANNOUNCED])
def test_what_is_taken_back_before_it_goes_leaves_its_parcel(circle, effie, state):
    spare = a_spare(circle, set_aside_for=effie)
    in_a_parcel(circle, state)

    withdraw_spare(circle.actor("Cuthbert"), spare, NOW)

    assert rows(circle, PARCEL_LINES) == ()
    (one,) = rows(circle, ALLOCATIONS)
    assert (one.state, one.answered_at) == (AllocationState.REFUSED, NOW)
    assert rows(circle, CLAIMS)[0].withdrawn_at == NOW


def test_what_is_on_its_way_cannot_be_taken_back(circle, effie):
    spare = a_spare(circle, set_aside_for=effie)
    in_a_parcel(circle, ParcelState.POSTED)

    with pytest.raises(OnTheirWayError):
        withdraw_spare(circle.actor("Cuthbert"), spare, NOW)

    assert row(circle, SPARES, spare).allocated == 3
    assert len(rows(circle, PARCEL_LINES)) == 1


def test_putting_back_what_was_never_withdrawn_changes_nothing(circle, effie):
    spare = a_spare(circle, set_aside_for=effie)
    before = rows(circle, SPARES), rows(circle, ALLOCATIONS)

    put_back(circle.actor("Cuthbert"), spare, NOW)

    assert (rows(circle, SPARES), rows(circle, ALLOCATIONS)) == before


def test_it_goes_to_the_first_place_that_no_border_blocks(circle, effie):
    moved(circle, circle.place("Effie").id, "NIR")
    reached = a_place(circle, effie)
    a_place(circle, effie)

    a_spare(circle, set_aside_for=effie)

    assert rows(circle, CLAIMS)[0].place_id == reached


def test_where_every_place_is_blocked_the_caution_of_the_first_is_told(circle, effie):
    moved(circle, circle.place("Effie").id, "NIR")
    elsewhere = a_place(circle, effie)
    moved(circle, elsewhere, "", country="US")

    with pytest.raises(BorderBlockedError) as refused:
        a_spare(circle, set_aside_for=effie)

    assert "DAERA" in str(refused.value)
    assert not str(refused.value).startswith("Ask")


def test_a_household_without_a_place_is_set_nothing_aside(circle, effie):
    with circle.house.books.writing() as tx:
        PLACES.remove(tx, circle.circle_id, circle.place("Effie").id)

    with pytest.raises(SetAsideRefusedError, match="where it grows"):
        a_spare(circle, set_aside_for=effie)


def test_a_blocked_border_without_an_authority_names_the_service(circle, effie, monkeypatch):
    row = SimpleNamespace(passage=Passage.BLOCKED, caution="Not allowed.", authority="")
    monkeypatch.setattr(module, "between", lambda *_ends: row)

    with pytest.raises(BorderBlockedError, match=r"Not allowed\. Ask the plant-health service"):
        a_spare(circle, set_aside_for=effie)


def test_taking_one_spare_back_leaves_the_others_set_aside_and_in_their_parcels(circle, effie):
    variety = a_variety(circle)
    kept = a_spare(circle, variety_id=variety, count=2, set_aside_for=effie)
    in_a_parcel(circle, ParcelState.POSTED)
    back = a_spare(circle, variety_id=variety, count=1, set_aside_for=effie)

    withdraw_spare(circle.actor("Cuthbert"), back, NOW)

    assert (row(circle, SPARES, kept).allocated, row(circle, SPARES, back).allocated) == (2, 0)
    assert len(rows(circle, PARCEL_LINES)) == 1


def test_what_was_taken_back_before_is_not_given_back_a_second_time(circle, effie):
    spare = a_spare(circle, set_aside_for=effie)
    cuthbert = circle.actor("Cuthbert")

    for days, allocated in enumerate((0, 3, 0)):
        act = put_back if allocated else withdraw_spare
        act(cuthbert, spare, NOW + timedelta(days))
        assert row(circle, SPARES, spare).allocated == allocated

    said = [one.answered_at for one in rows(circle, ALLOCATIONS)]
    assert said == [NOW, NOW + timedelta(days=2)]


def test_nothing_is_set_aside_for_a_household_that_is_not_there(circle):
    spare = a_spare(circle)

    with circle.house.books.writing() as tx, pytest.raises(NotHereError):
        set_aside(tx, circle.actor("Cuthbert"), spare, 10**6, NOW)
