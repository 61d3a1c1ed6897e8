"""Rule 1's arithmetic against the chance of losing a variety, worked out plainly from its places."""

import itertools
import math
import random
from dataclasses import replace

import pytest

from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.losing import holding as holding_at
from exchange.domain.growing.losing import place_loses
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.case import Allocation, SharingTerms
from exchange.domain.sharing.losses import FINE, losses, settled_drop
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.stages import first_rule, start
from tests.builders.circles import a_case, a_claim, a_spare, a_variety, random_circle
from tests.builders.sized import SIZES


def a_precious_case(places=6, spares=4, **more):
    """One variety kept in one place only, and claimed at all others."""
    return a_case(
        varieties=(a_variety(1, must_not_be_lost=True),),
        batches=(Batch(1, 1, 1, 1, Material.POT_TUBER, Raised.COOL, 3),),
        spares=tuple(a_spare(number, household=1) for number in range(1, spares + 1)),
        claims=tuple(a_claim(number, household=number) for number in range(2, places + 1)),
        **more,
    )


def chance_after(case, received):
    """Multiply the chances of all places, none of them with shelters of their own."""
    kept = {1: 1}
    chance = 1.0
    for place in {*kept, *received}:
        held = holding_at(case.varieties[0], place, None, kept.get(place, 0))
        more = received.get(place, 0)
        if held.plants or more:
            chance *= float(place_loses(held, more))
    return chance


@pytest.mark.parametrize("received", [{}, {2: 1}, {2: 2}, {2: 1, 3: 1}])
def test_the_drop_is_the_fall_of_the_chance_of_losing_it(received):
    case = a_precious_case()
    loss = losses(case)[1]

    drop = loss.drop(loss.total(received)) / FINE

    # Gains are whole thousandths of a natural logarithm, so the chance is right to a thousandth of itself a plant.
    assert drop == pytest.approx(chance_after(case, {}) - chance_after(case, received), abs=1e-3)


def test_no_more_plants_count_than_take_the_chance_below_one_in_a_thousand():
    case = a_precious_case(places=12, spares=10)
    loss = losses(case)[1]
    each_at_its_own_place = dict.fromkeys(range(2, 2 + loss.enough), 1)

    assert chance_after(case, each_at_its_own_place) <= 0.00101
    fewer = dict(list(each_at_its_own_place.items())[:-1])
    assert chance_after(case, fewer) > 0.00099
    one_more = {**each_at_its_own_place, 2 + loss.enough: 1}
    assert loss.total(one_more) == loss.total(each_at_its_own_place)


def test_where_too_few_are_offered_every_plant_counts():
    assert losses(a_precious_case(places=12, spares=2))[1].enough == 2


def test_the_plants_that_gain_most_are_the_ones_that_count():
    loss = losses(a_precious_case(places=12, spares=10))[1]
    every = [gain for gains in loss.gains.values() for gain in gains]

    total = loss.total(dict.fromkeys(loss.gains, 3))

    threes = [gain for gains in loss.gains.values() for gain in gains[:3]]
    assert total == max(
        sum(some) for some in itertools.combinations(sorted(threes)[-8:], min(loss.enough, 8))
    )
    assert total <= sum(every)


def test_what_stands_already_counts_among_those_that_do():
    case = a_precious_case(places=12, spares=10)
    stands = (Allocation(1, 2, 1), Allocation(2, 3, 1))
    loss = losses(a_precious_case(places=12, spares=10, kept=stands))[1]

    assert loss.standing == {2: 1, 3: 1}
    assert loss.enough == losses(case)[1].enough
    assert loss.total({**loss.standing, **dict.fromkeys(range(4, 12), 1)}) == loss.total(
        dict.fromkeys(range(2, 2 + loss.enough), 1)
    )


def test_counts_that_could_come_about_hold_every_total():
    loss = losses(a_precious_case(places=5, spares=4))[1]
    counts, drops = loss.reachable()

    places = sorted(loss.gains)
    for some in itertools.product(range(3), repeat=len(places)):
        if sum(some) <= 4:
            assert loss.total(dict(zip(places, some, strict=True))) in counts
    assert list(drops) == sorted(drops)


def test_a_variety_already_safe_is_left_to_the_other_rules():
    case = a_precious_case()
    assert 1 in losses(case)
    safe = a_case(
        varieties=(a_variety(1, must_not_be_lost=True, target_places=1),),
        batches=case.batches,
        spares=case.spares,
        claims=case.claims,
    )
    assert losses(safe) == {}


def test_plants_of_several_spares_that_stand_at_one_place_are_added_up():
    stands = (Allocation(1, 2, 1), Allocation(2, 2, 1))
    assert losses(a_precious_case(kept=stands))[1].standing == {2: 2}


def test_a_batch_that_has_died_out_is_no_place():
    case = a_precious_case()
    gone = replace(case, batches=tuple(replace(one, plants=0) for one in case.batches))
    assert losses(gone)[1].lost == FINE


def test_a_place_that_grows_it_gains_by_a_further_plant_only_what_that_one_adds():
    case = a_precious_case()
    two = (*case.batches, Batch(2, 1, 2, 2, Material.POT_TUBER, Raised.COOL, 1))
    gains = losses(replace(case, batches=two))[1].gains

    before, after = (float(place_loses(holding_at(case.varieties[0], 2, None, n))) for n in (1, 2))
    assert gains[2][0] == round(1000 * math.log(before / after))
    assert gains[2][0] < gains[3][0]


def test_a_place_that_would_take_it_instead_counts_too():
    case = a_precious_case(places=3)
    first, *others = case.claims
    instead = replace(first, variety_id=2, alternatives=(1,))
    varieties = (*case.varieties, a_variety(2))
    loss = losses(replace(case, claims=(instead, *others), varieties=varieties))[1]
    assert set(loss.gains) == {2, 3}


@pytest.mark.parametrize(("target", "counts"), [(None, True), (1, False), (2, True)])
def test_the_circle_settles_in_how_many_places_a_variety_should_stand(target, counts):
    found = losses(a_precious_case(terms=SharingTerms(target_places=target)))
    assert (1 in found) is counts


def test_what_stands_of_a_variety_nobody_can_receive_more_of_is_told_as_its_drop():
    case = a_precious_case(kept=(Allocation(1, 2, 1),))
    found = losses(case)
    now = chance_after(case, {}) - chance_after(case, {2: 1})

    assert settled_drop(found, open_to=()) / FINE == pytest.approx(now, abs=1e-3)
    assert settled_drop(found, open_to={1}) == 0


def test_rule_1_is_proven_in_few_branches_where_every_variety_must_not_be_lost():
    """Branching by the gains alone, and not by what they are worth, took 49 leaves."""
    varieties, spares, claims = SIZES[60]
    case = random_circle(
        random.Random(1),
        households=60,
        varieties=varieties,
        spares=spares,
        claims=claims,
        terms={"most_contested": 2},
        precious=1.0,
    )
    pairs = pair_up(case)
    path = start(case, pairs, measure(case, pairs), never_stop)

    first_rule(path)

    (proof,) = path.proofs
    assert proof.by_duals
    assert len(proof.trees[0]) < 25
