"""Why each claim came out as it did: obstacle, most of a contested variety, room, or the rule it was lost under."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from exchange.domain.growing.fit import fits_at_place
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.forced import Baseline, force
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairs import PairingLookups, Pairs, wanted
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, Rule
from exchange.domain.sharing.rules import contested_pairs
from exchange.domain.sharing.spare import Spare


class _Outcome:
    """What reasons look up again and again in one share-out."""

    def __init__(self, case: ShareOutCase, pairs: Pairs, allocations: Sequence[Allocation]) -> None:
        self.case, self.pairs = case, pairs
        self.lookups = PairingLookups(case)
        self.measure = measure(case, pairs)
        self.offers: defaultdict[int, list[Spare]] = defaultdict(list)
        for spare in case.spares:
            self.offers[spare.variety_id].append(spare)
        self.askers: defaultdict[int, set[int]] = defaultdict(set)
        for claim in case.claims:
            self.askers[claim.variety_id].add(claim.household_id)
        self.left = {one.id: one.count for one in case.spares}
        self.given: defaultdict[int, int] = defaultdict(int)
        for one in allocations:
            self.left[one.spare_id] -= one.count
            self.given[one.claim_id] += one.count
        self.held = contested_pairs(case, allocations, self.measure)
        self.could: defaultdict[int, list[int]] = defaultdict(list)
        for claim, pool in zip(pairs.claim.tolist(), pairs.pool.tolist(), strict=True):
            self.could[claim].append(pool)


LOST_COLUMNS = 15_000
"""Up to this many columns times lost claims, each lost claim is forced, to name its rule exactly."""


def reasons(
    case: ShareOutCase,
    pairs: Pairs,
    allocations: Sequence[Allocation],
    decided: Mapping[int, Rule],
    was: Sequence[Baseline],
) -> dict[int, ClaimReason]:
    """Give a reason for every claim, by claim id.

    Parameters
    ----------
    pairs, decided : of the first pass
    was : the passes, to compare with

    In a large circle a lost claim names the rule that left it no freedom; forcing it (`explanation.what_if`) tells
    exactly.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    outcome = _Outcome(case, pairs, allocations)
    found = {
        index: _reason(outcome, index, decided.get(index, Rule.DRAW))
        for index in range(len(case.claims))
    }
    lost = [index for index, reason in found.items() if reason.rule is not None]
    if len(lost) * pairs.count <= LOST_COLUMNS:
        found.update({index: _exact(found[index], was, index) for index in lost})
    else:
        found.update({index: replace(found[index], sure=False) for index in lost})
    return {case.claims[index].id: reason for index, reason in found.items()}


def _exact(reason: ClaimReason, was: Sequence[Baseline], index: int) -> ClaimReason:
    """Name the rule that gives way when the claim is forced; without any, there are simply no more plants."""
    forced = force(was, index)
    if forced is None:
        return replace(reason, rule=None, obstacle=Obstacle.FEWER)
    return replace(reason, rule=forced.rule)


def _reason(outcome: _Outcome, index: int, rule: Rule) -> ClaimReason:
    """Give one claim's reason."""
    claim = outcome.case.claims[index]
    given = outcome.given[claim.id]
    offers = [
        one for one in outcome.offers[claim.variety_id] if one.household_id != claim.household_id
    ]
    plain = ClaimReason(
        standing=_standing(claim.asked, given),
        asked=claim.asked,
        given=given,
        others=len(outcome.askers[claim.variety_id] - {claim.household_id}),
        offered=sum(one.count for one in offers),
    )
    if plain.standing is ClaimOutcome.MET:
        return plain
    if index in outcome.pairs.obstacles:
        obstacle, spare = outcome.pairs.obstacles[index]
        return _blocked(outcome, replace(plain, obstacle=obstacle), claim, spare)
    obstacle_now = _held_back(outcome, index)
    if obstacle_now is not None:
        return replace(plain, obstacle=obstacle_now)
    return replace(plain, rule=rule)


def _standing(asked: int, given: int) -> ClaimOutcome:
    """Say whether a claim is met, met in part or not met."""
    if given >= asked:
        return ClaimOutcome.MET
    return ClaimOutcome.PART if given else ClaimOutcome.UNMET


def _held_back(outcome: _Outcome, index: int) -> Obstacle | None:
    """Say whether only room keeps plants that are left from the claim, or the most of a variety kept others from it."""
    claim = outcome.case.claims[index]
    spare_left = [
        outcome.case.spares[spare]
        for pool in outcome.could[index]
        for spare in outcome.pairs.pools[pool].spares
        if outcome.left[outcome.case.spares[spare].id] > 0
    ]
    if not spare_left:
        held = outcome.held.get((claim.household_id, claim.variety_id), 0)
        own_limit = held == outcome.case.terms.most_contested
        return Obstacle.MOST if own_limit and wanted(claim) == (claim.variety_id,) else None
    # Beyond the most of a variety, whatever is left was offered to those who still ask.
    return Obstacle.ROOM


def _blocked(
    outcome: _Outcome, plain: ClaimReason, claim: Claim, spare: Spare | None
) -> ClaimReason:
    """Add what an obstacle's own table says: caution and authority, or the day a shelter fits."""
    caution, authority, fits = "", "", None
    if spare is not None and plain.obstacle is Obstacle.BORDER:
        row = outcome.case.passage.get((spare.place_id, claim.place_id))
        caution, authority = (row.caution, row.authority) if row else ("", "")
    if spare is not None and plain.obstacle is Obstacle.HELD:
        authority = outcome.lookups.varieties[spare.variety_id].authority
    if spare is not None and plain.obstacle is Obstacle.SHELTER:
        shelters = tuple(one for one in outcome.case.shelters if one.place_id == claim.place_id)
        safe_from = outcome.case.safe_from.get(claim.place_id)
        fits = fits_at_place(shelters, outcome.lookups.stock(spare), safe_from)
    return replace(plain, caution=caution, authority=authority, fits_from=fits)
