"""Whether the draw number was kept: no plant could go to a claim that drew higher, all rules equal."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.rules import Infeasible, check_feasible, precious_value, values
from exchange.domain.sharing.spare import Spare

Counts = Mapping[tuple[int, int], int]


def higher_draw(
    case: ShareOutCase, allocations: Sequence[Allocation], what: Measure
) -> tuple[int, int, int] | None:
    """Look for a plant that a claim with a higher draw should have had.

    One plant is moved at a time, so that it finds only plain ties; an exchange of several plants is not looked for.

    Returns
    -------
    spare, the claim that has the plant and the claim that drew higher, by their ids; None when there is none
    """
    counts = {(one.spare_id, one.claim_id): one.count for one in allocations}
    before = (precious_value(case, allocations, what), values(case, allocations, what))
    for spare, has, asks in _moves(case, counts):
        moved = _moved(counts, spare, has, asks)
        try:
            check_feasible(case, moved, what)
        except Infeasible:
            continue
        if (precious_value(case, moved, what), values(case, moved, what)) == before:
            return spare.id, has.id, asks.id
    return None


def _moves(case: ShareOutCase, counts: Counts) -> Iterator[tuple[Spare, Claim, Claim]]:
    """Give every plant that could move from a claim to one that asks for more and drew higher."""
    lookups = PairingLookups(case)
    spares = {one.id: one for one in case.spares}
    claims = {one.id: one for one in case.claims}
    stands = {(one.spare_id, one.claim_id): one.count for one in case.standing}
    given: defaultdict[int, int] = defaultdict(int)
    for (_, claim_id), count in counts.items():
        given[claim_id] += count
    asking: defaultdict[int, list[Claim]] = defaultdict(list)
    for claim in case.claims:
        if given[claim.id] < claim.asked:
            for variety in wanted(claim):
                asking[variety].append(claim)
    for (spare_id, claim_id), count in sorted(counts.items()):
        if count <= stands.get((spare_id, claim_id), 0):
            continue
        spare, has = spares[spare_id], claims[claim_id]
        for asks in asking[spare.variety_id]:
            higher = drawn(case.draw_number, asks.id, spare_id) > drawn(
                case.draw_number, claim_id, spare_id
            )
            if asks.id != claim_id and higher and lookups.obstacle(spare, asks) is None:
                yield spare, has, asks


def _moved(counts: Counts, spare: Spare, has: Claim, asks: Claim) -> tuple[Allocation, ...]:
    """Move one plant of a spare from one claim to another."""
    changed = dict(counts)
    changed[spare.id, has.id] -= 1
    changed[spare.id, asks.id] = changed.get((spare.id, asks.id), 0) + 1
    return tuple(Allocation(*ends, count) for ends, count in sorted(changed.items()) if count)
