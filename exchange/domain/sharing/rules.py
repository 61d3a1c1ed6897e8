"""Feasibility and the value of every rule, by plain whole-number arithmetic on the allocations alone.

Nothing here looks at rows, columns or a solver: it is what any result must agree with.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.spare import Spare


class Infeasible(ValueError):
    """An allocation breaks a bound; the sentence names the first one broken."""


def check_feasible(case: ShareOutCase, allocations: Sequence[Allocation], measure: Measure) -> None:
    """Check that the allocations keep every bound, beside those that stand already.

    Raises
    ------
    Infeasible
        naming the first bound that is broken
    """
    spares = {one.id: one for one in case.spares}
    claims = {one.id: one for one in case.claims}
    lookups = PairingLookups(case)
    standing = {(one.spare_id, one.claim_id): one.count for one in case.standing}
    for one in allocations:
        if one.count <= 0:
            raise Infeasible(f"spare {one.spare_id} gives claim {one.claim_id} no whole plant")
        if one.spare_id not in spares or one.claim_id not in claims:
            raise Infeasible(
                f"spare {one.spare_id} or claim {one.claim_id} is not in the share-out"
            )
        spare, claim = spares[one.spare_id], claims[one.claim_id]
        if one.count <= standing.get((spare.id, claim.id), 0):
            continue
        if spare.variety_id not in wanted(claim):
            raise Infeasible(f"claim {claim.id} did not ask for the variety of spare {spare.id}")
        obstacle = lookups.obstacle(spare, claim)
        if obstacle is not None:
            raise Infeasible(f"spare {spare.id} cannot go to claim {claim.id}: {obstacle.value}")
    _check_counts(case, allocations, measure)
    _check_room(case, allocations, lookups)


def _check_counts(case: ShareOutCase, allocations: Iterable[Allocation], measure: Measure) -> None:
    """Check what spares hold, what claims ask, the most of a contested variety, and what stands."""
    by_spare: Counter[int] = Counter()
    by_claim: Counter[int] = Counter()
    both: Counter[tuple[int, int]] = Counter()
    for one in allocations:
        by_spare[one.spare_id] += one.count
        by_claim[one.claim_id] += one.count
        both[one.spare_id, one.claim_id] += one.count
    for spare in case.spares:
        if by_spare[spare.id] > spare.count:
            raise Infeasible(f"spare {spare.id} gives more plants than it has")
    for claim in case.claims:
        if by_claim[claim.id] > claim.asked:
            raise Infeasible(f"claim {claim.id} gets more plants than it asked for")
    for stands in case.standing:
        if both[stands.spare_id, stands.claim_id] < stands.count:
            raise Infeasible(f"what stands for claim {stands.claim_id} was taken away")
    for key, count in contested_pairs(case, allocations, measure).items():
        allowed = max(case.most_contested, measure.standing_pairs.get(key, 0))
        if count > allowed:
            raise Infeasible(f"household {key[0]} gets too many of contested variety {key[1]}")


def _check_room(
    case: ShareOutCase, allocations: Iterable[Allocation], lookups: PairingLookups
) -> None:
    """Check the room of every place; what stands may fill it, the rest may not overfill it."""
    spares = {one.id: one for one in case.spares}
    claims = {one.id: one for one in case.claims}
    filled: Counter[tuple[int, int]] = Counter()
    stood: Counter[tuple[int, int]] = Counter()
    for tally, those in ((filled, allocations), (stood, case.standing)):
        for one in those:
            spare, claim = spares[one.spare_id], claims[one.claim_id]
            depth = lookups.depth(spare, claim)
            for colder in range(depth, len(lookups.room[claim.place_id])):
                tally[claim.place_id, colder] += one.count
    for place, free in lookups.room.items():
        for depth, limit in enumerate(free):
            if limit is not None and limit >= 0:
                allowed = max(limit, stood[place, depth])
                if filled[place, depth] > allowed:
                    raise Infeasible(f"place {place} has no room for what it gets")


def contested_pairs(
    case: ShareOutCase, allocations: Iterable[Allocation], measure: Measure
) -> dict[tuple[int, int], int]:
    """Count contested plants by household and variety."""
    varieties = {one.id: one.variety_id for one in case.spares}
    households = {one.id: one.household_id for one in case.claims}
    counts: defaultdict[tuple[int, int], int] = defaultdict(int)
    for one in allocations:
        if varieties[one.spare_id] in measure.contested:
            counts[households[one.claim_id], varieties[one.spare_id]] += one.count
    return counts


def values(
    case: ShareOutCase, allocations: Sequence[Allocation], measure: Measure
) -> tuple[int, ...]:
    """Give the values of rules 1 to 6; rules 5 and 6 are to be small, the others large.

    Rule 6 is 0 where no tariff was typed in.
    """
    pairs = contested_pairs(case, allocations, measure)
    firsts = sum(measure.first_plant(household) for (household, _), count in pairs.items() if count)
    parcels = parcel_counts(case, allocations)
    postage = case.postage or {}
    return (
        precious_value(case, allocations, measure) // measure.parts,
        firsts,
        _climbed(pairs, measure),
        _wishes(case, allocations, measure),
        sum(parcels.values()),
        sum(count * postage.get(ends, 0) for ends, count in parcels.items()),
    )


def precious_value(case: ShareOutCase, allocations: Iterable[Allocation], measure: Measure) -> int:
    """Give rule 1's value in the parts it is worked out in."""
    received = received_by_place(case, allocations)
    return sum(one.value(received[variety]) for variety, one in measure.precious.items())


def received_by_place(
    case: ShareOutCase, allocations: Iterable[Allocation]
) -> defaultdict[int, Counter[int]]:
    """Count the plants each place receives, by variety."""
    varieties = {one.id: one.variety_id for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    received: defaultdict[int, Counter[int]] = defaultdict(Counter)
    for one in allocations:
        received[varieties[one.spare_id]][places[one.claim_id]] += one.count
    return received


def _climbed(pairs: Mapping[tuple[int, int], int], measure: Measure) -> int:
    """Rule 3: the steps every household climbs on its ladder, summed."""
    levels: Counter[int] = Counter()
    for (household, _), count in pairs.items():
        levels[household] += count
    total = 0
    for household, level in levels.items():
        start = measure.start.get(household, 0)
        total += sum(measure.step(start + number) for number in range(level))
    return total


def _wishes(case: ShareOutCase, allocations: Iterable[Allocation], measure: Measure) -> int:
    """Rule 4: what the plants count by choice, those that stand already included."""
    varieties = {one.id: one.variety_id for one in case.spares}
    claims = {one.id: one for one in case.claims}
    total = 0
    for one in allocations:
        claim = claims[one.claim_id]
        takes = wanted(claim)
        variety = varieties[one.spare_id]
        rank = takes.index(variety) if variety in takes else 0
        total += one.count * measure.wish(claim.choice, rank)
    return total


def parcel_counts(
    case: ShareOutCase, allocations: Iterable[Allocation]
) -> dict[tuple[int, int], int]:
    """Count the parcels by sending household and receiving place.

    One parcel takes all, but never two plants of a must-not-be-lost variety.
    """
    spares = {one.id: one for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    precious = {one.id for one in case.varieties if one.must_not_be_lost}
    counts: defaultdict[tuple[int, int], defaultdict[int, int]] = defaultdict(
        lambda: defaultdict(int)
    )
    for one in allocations:
        spare = spares[one.spare_id]
        ends = (spare.household_id, places[one.claim_id])
        counts[ends][spare.variety_id] += one.count
    return {
        ends: max(count if variety in precious else 1 for variety, count in inside.items())
        for ends, inside in counts.items()
    }


def could_still_go(
    case: ShareOutCase, allocations: Sequence[Allocation]
) -> tuple[Spare, Claim] | None:
    """Look for a plant left with its owner that a claim which asks for more could take under every wall.

    The most of a contested variety is an order and no wall, so it does not count.
    """
    done = replace(case, kept=tuple(allocations), pins=())
    lookups = PairingLookups(done)
    lookups.take_standing()
    by_spare: Counter[int] = Counter()
    by_claim: Counter[int] = Counter()
    for one in allocations:
        by_spare[one.spare_id] += one.count
        by_claim[one.claim_id] += one.count
    left: defaultdict[int, list[Spare]] = defaultdict(list)
    for spare in case.spares:
        if by_spare[spare.id] < spare.count:
            left[spare.variety_id].append(spare)
    for claim in case.claims:
        if by_claim[claim.id] < claim.asked:
            for spare in (one for variety in wanted(claim) for one in left[variety]):
                if lookups.obstacle(spare, claim) is None:
                    return spare, claim
    return None
