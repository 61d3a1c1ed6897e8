"""Rule 1's arithmetic against the chance of losing a variety, worked out plainly from its places."""

from dataclasses import replace

import pytest

from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.losing import holding as holding_at
from exchange.domain.growing.losing import place_loses
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.case import Allocation, SharingTerms
from exchange.domain.sharing.homes import SAFE, SAFER, WHOLE, homes
from exchange.domain.sharing.share_out import work_out
from tests.builders.circles import a_case, a_claim, a_spare, a_variety


def a_precious_case(places=6, spares=4, **more):
    """One variety kept in one place only, and claimed at all others."""
    usual = {
        "varieties": (a_variety(1, must_not_be_lost=True),),
        "batches": (Batch(1, 1, 1, 1, Material.POT_TUBER, Raised.COOL, 3),),
        "spares": tuple(a_spare(number, household=1) for number in range(1, spares + 1)),
        "claims": tuple(a_claim(number, household=number) for number in range(2, places + 1)),
    }
    return a_case(**{**usual, **more})


def chance_after(case, received):
    """Multiply the chances of all places, none of them with shelters of their own."""
    kept = {1: 1}
    chance = 1.0
    for place in {*kept, *received}:
        held = holding_at(case.varieties[0], place, None, kept.get(place, 0))
        chance *= float(place_loses(held, received.get(place, 0)))
    return chance


@pytest.mark.parametrize("number", range(5))
def test_new_homes_count_the_fall_of_the_chance_of_losing_it(number):
    case = a_precious_case()
    found = homes(case)[1]
    received = dict.fromkeys(range(2, 2 + min(number, len(found.gains))), 1)

    counted = found.value(received) - sum(found.safer[place] for place in received)

    fall = chance_after(case, {}) - chance_after(case, received)
    assert counted / WHOLE == pytest.approx(fall, abs=2e-3)


def test_a_second_plant_at_a_place_counts_nothing():
    found = homes(a_precious_case())[1]
    assert found.value({2: 3}) == found.value({2: 1})


def test_a_place_that_grows_it_already_is_no_new_home():
    case = a_precious_case()
    two = (*case.batches, Batch(2, 1, 2, 2, Material.POT_TUBER, Raised.COOL, 1))
    found = homes(replace(case, batches=two))[1]
    assert found.value({2: 1}) == 0 < found.value({3: 1})


def test_a_batch_that_has_died_out_is_no_place():
    case = a_precious_case()
    gone = replace(case, batches=tuple(replace(one, plants=0) for one in case.batches))
    lost = sum(homes(gone)[1].gains[:1]) / (1 - 0.19)
    assert lost == pytest.approx(WHOLE, rel=0.3)


def test_homes_count_until_the_variety_is_safe_and_no_more():
    case = a_precious_case(places=12, spares=10)
    found = homes(case)[1]
    enough = len(found.gains)

    at_last = chance_after(case, dict.fromkeys(range(2, 2 + enough), 1))
    one_fewer = chance_after(case, dict.fromkeys(range(2, 1 + enough), 1))

    assert 0 < enough < 10
    assert at_last * WHOLE <= 1.01 * SAFE < one_fewer * WHOLE
    every = dict.fromkeys(range(2, 13), 1)
    assert found.value(every) == found.value(dict.fromkeys(range(2, 2 + enough), 1))


def test_where_too_few_are_offered_no_more_homes_count_than_plants():
    assert len(homes(a_precious_case(places=12, spares=2))[1].gains) == 2


def test_what_stands_already_counts_among_the_homes():
    case = a_precious_case(places=12, spares=10)
    stands = (Allocation(1, 2, 1), Allocation(2, 2, 1), Allocation(3, 3, 1))
    before, after = homes(case)[1], homes(replace(case, kept=stands))[1]

    assert after.standing == {2, 3}
    assert after.gains == before.gains
    for received in (
        {2: 2, 3: 1},
        {2: 2, 3: 1, 4: 1},
        {2: 2, 3: 1, **dict.fromkeys(range(4, 13), 1)},
    ):
        assert after.value(received) == before.value(received)


def test_a_safer_home_counts_more_but_less_than_a_home():
    shelters = (Shelter(2, ShelterKind.COLD), Shelter(3, ShelterKind.INDOORS))
    found = homes(a_precious_case(shelters=shelters))[1]

    assert 0 < found.safer[2] < found.safer[3] <= SAFER
    assert found.value({2: 1, 4: 1}) > found.value({3: 1})


def test_of_two_that_ask_for_the_last_plant_the_safer_home_is_given_it():
    shelters = (Shelter(2, ShelterKind.COLD), Shelter(3, ShelterKind.INDOORS))
    for draw in range(6):
        case = a_precious_case(3, 1, shelters=shelters, draw_number=str(draw))
        assert [one.claim_id for one in work_out(case).allocations] == [3]


def test_a_new_home_comes_before_a_second_plant_elsewhere():
    """Household 2 asks for both plants as its first wish, household 3 for one as its third."""
    claims = (a_claim(2, asked=2), a_claim(3, household=3, choice=3))
    found = work_out(a_precious_case(spares=2, claims=claims)).allocations
    assert {one.claim_id: one.count for one in found} == {2: 1, 3: 1}


def test_a_place_sure_to_lose_it_is_no_home():
    varieties = (a_variety(1, must_not_be_lost=True, species="coleus"),)
    shelters = (Shelter(2, ShelterKind.OPEN_GROUND), Shelter(3, ShelterKind.INDOORS))
    found = homes(a_precious_case(varieties=varieties, shelters=shelters))[1]
    assert 2 not in found.safer
    assert 3 in found.safer


def test_a_variety_already_safe_is_left_to_the_other_rules():
    assert 1 in homes(a_precious_case())
    safe = a_precious_case(varieties=(a_variety(1, must_not_be_lost=True, target_places=1),))
    assert homes(safe) == {}


def test_a_place_that_would_take_it_instead_counts_too():
    case = a_precious_case(places=3)
    first, *others = case.claims
    instead = replace(first, variety_id=2, alternatives=(1,))
    varieties = (*case.varieties, a_variety(2))
    found = homes(replace(case, claims=(instead, *others), varieties=varieties))[1]
    assert set(found.safer) == {2, 3}


@pytest.mark.parametrize(("target", "counts"), [(None, True), (1, False), (2, True)])
def test_the_circle_settles_in_how_many_places_a_variety_should_stand(target, counts):
    found = homes(a_precious_case(terms=SharingTerms(target_places=target)))
    assert (1 in found) is counts
