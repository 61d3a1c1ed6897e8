"""Which claims still wait for plants, and which lack some."""

import pytest

from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, PLACES
from exchange.records.claims import lacking_claims, open_claims
from tests.app_fixtures import NOW
from tests.builders.offers import a_claim, a_spare, a_variety


@pytest.fixture
def variety(circle):
    return a_variety(circle)


@pytest.fixture
def claim(circle, variety):
    return a_claim(circle, variety_id=variety)


@pytest.fixture
def spare(circle, variety):
    return a_spare(circle, variety_id=variety)


def waiting(tx, circle):
    return [one.id for one in open_claims(tx, circle.circle_id)]


def lacking(tx, circle):
    return {one.id: plants for one, plants in lacking_claims(tx, circle.circle_id).items()}


def test_a_claim_waits_until_it_is_withdrawn(claim, tx, circle, other):
    assert (waiting(tx, circle), waiting(tx, other)) == ([claim], [])
    assert (lacking(tx, circle), lacking(tx, other)) == ({claim: 1}, {})

    CLAIMS.change(tx, circle.circle_id, claim, withdrawn_at=NOW)

    assert not [*waiting(tx, circle), *lacking(tx, circle)]


@pytest.mark.parametrize(
    ("state", "waits"),
    [
        (AllocationState.CONFIRMED, False),
        (AllocationState.REFUSED, True),
        (AllocationState.DECLINED, True),
    ],
)
def test_a_claim_waits_no_longer_while_plants_given_to_it_stand(
    claim, spare, tx, circle, state, waits
):
    ALLOCATIONS.add(
        tx, circle.circle_id, spare_id=spare, claim_id=claim, count=1, state=state, made_at=NOW
    )

    assert waiting(tx, circle) == ([claim] if waits else [])


def test_what_was_set_aside_never_waited(variety, tx, circle):
    kept = CLAIMS.add(
        tx, circle.circle_id, household_id=circle["Effie"].household_id,
        place_id=PLACES.all(tx, circle.circle_id)[0].id, variety_id=variety, asked=1, materials=frozenset(), alternatives=(),
        set_aside=True, made_at=NOW,
    )  # fmt: skip

    assert kept not in (*waiting(tx, circle), *lacking(tx, circle))


@pytest.mark.parametrize(
    ("given", "lacks"),
    [
        ([], 3),
        ([(1, AllocationState.CONFIRMED)], 2),
        ([(1, AllocationState.CONFIRMED), (1, AllocationState.AGREED)], 1),
        ([(1, AllocationState.CONFIRMED), (2, AllocationState.REFUSED)], 2),
        ([(1, AllocationState.CONFIRMED), (2, AllocationState.CONFIRMED)], 0),
    ],
)
def test_a_claim_of_three_lacks_what_does_not_stand_given(variety, spare, tx, circle, given, lacks):
    claim = a_claim(circle, variety_id=variety, asked=3)

    for count, state in given:
        ALLOCATIONS.add(
            tx, circle.circle_id, spare_id=spare, claim_id=claim, count=count, state=state, made_at=NOW
        )  # fmt: skip

    assert lacking(tx, circle) == ({claim: lacks} if lacks else {})
