"""Pairing of a whole circle against the same question asked of each spare and claim."""

from dataclasses import replace

import pytest

from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.reason import Obstacle
from tests.builders.circles import middling_circle, tiny_circle


def a_circle(number):
    return middling_circle(number) if number % 2 else tiny_circle(number)


def with_pins_and_forbids(case, number):
    """Forbid every seventh spare some claim, and let some claim's plant stand already."""
    forbids = tuple(
        (spare.id, claim.id) for spare in case.spares[::7] for claim in case.claims[::3]
    )
    lookups = PairingLookups(case)
    kept = [
        Allocation(spare.id, claim.id, 1)
        for claim in case.claims[:: number + 2]
        for spare in case.spares
        if spare.variety_id in wanted(claim) and lookups.obstacle(spare, claim) is None
    ]
    return replace(case, forbids=forbids, kept=tuple(kept[:1]))


@pytest.mark.parametrize("number", range(40))
def test_the_pairs_are_those_with_no_obstacle_in_between(number):
    case = with_pins_and_forbids(a_circle(number), number)
    pairs = pair_up(case)
    lookups = PairingLookups(case)
    lookups.take_standing()

    found = {
        (case.spares[spare].id, case.claims[pair.claim].id, pair.rank, pair.depth)
        for pair in pairs.pairs
        for spare in pairs.pools[pair.pool].spares
    }

    one_by_one = {
        (spare.id, claim.id, wanted(claim).index(spare.variety_id), lookups.depth(spare, claim))
        for claim in case.claims
        for spare in case.spares
        if spare.variety_id in wanted(claim) and lookups.obstacle(spare, claim) is None
    }
    assert found == one_by_one


@pytest.mark.parametrize("number", range(40))
def test_a_claim_without_a_pair_is_told_what_the_nearest_spare_met(number):
    case = with_pins_and_forbids(a_circle(number), number)
    pairs = pair_up(case)
    lookups = PairingLookups(case)
    lookups.take_standing()

    for index, claim in enumerate(case.claims):
        spares = [
            one for variety in wanted(claim) for one in case.spares if one.variety_id == variety
        ]
        met = [lookups.obstacle(spare, claim) for spare in spares]
        if None in met:
            assert index not in pairs.obstacles
        else:
            # Of several that came as near, the first is told.
            nearest = max(met, key=tuple(Obstacle).index, default=Obstacle.NOBODY_OFFERS)
            first = spares[met.index(nearest)] if met else None
            assert pairs.obstacles[index] == (nearest, first)


@pytest.mark.parametrize("number", range(0, 40, 4))
def test_pooled_spares_could_serve_the_same_claims(number):
    case = middling_circle(number, members=40)
    pairs = pair_up(case)
    lookups = PairingLookups(case)

    assert len({one for pool in pairs.pools for one in pool.spares}) == sum(
        len(pool.spares) for pool in pairs.pools
    )
    for pool in pairs.pools:
        serves = {
            tuple(
                (claim.id, lookups.depth(case.spares[spare], claim))
                for claim in case.claims
                if case.spares[spare].variety_id in wanted(claim)
                and lookups.obstacle(case.spares[spare], claim) is None
            )
            for spare in pool.spares
        }
        assert len(serves) == 1
