"""Why each claim came out as it did: what stood in the way, or the rule it was lost under and where its plants went.

What is said of plants that went elsewhere is a statement about the result, and is held against it first (`went`).
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.claim_obstacle import told_of
from exchange.domain.sharing.followed import PlantsFollowed, Result
from exchange.domain.sharing.forced import Baseline, force
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairs import PairingLookups, Pairs
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, Rule, WentTo
from exchange.domain.sharing.spare import Spare
from exchange.domain.sharing.stages import STAGES
from exchange.domain.sharing.went import where_they_went

_ORDER = tuple(Obstacle)


class _Outcome:
    """What reasons look up again and again in one share-out."""

    def __init__(self, case: ShareOutCase, pairs: Pairs, allocations: Sequence[Allocation]) -> None:
        self.case, self.pairs = case, pairs
        self.result = Result(case, measure(case, pairs), allocations)
        self.before, self.after = (
            PairingLookups(case),
            PairingLookups(replace(case, kept=tuple(allocations), pins=())),
        )
        self.before.take_standing()
        self.after.take_standing()
        self.offers: defaultdict[int, list[Spare]] = defaultdict(list)
        for spare in case.spares:
            self.offers[spare.variety_id].append(spare)
        self.askers: defaultdict[int, set[int]] = defaultdict(set)
        for claim in case.claims:
            self.askers[claim.variety_id].add(claim.household_id)
        self.given: defaultdict[int, int] = defaultdict(int)
        for one in allocations:
            self.given[one.claim_id] += one.count
            spare, claim = self.result.spares[one.spare_id], self.result.claims[one.claim_id]
            self.askers[spare.variety_id].add(claim.household_id)
        self.could: defaultdict[int, list[int]] = defaultdict(list)
        for index, pool in zip(pairs.claim.tolist(), pairs.pool.tolist(), strict=True):
            self.could[index].append(pool)

    def account(self, index: int) -> PlantsFollowed:
        """Follow the plants of the variety asked for that could have come to a claim."""
        claim = self.case.claims[index]
        could = [
            self.case.spares[spare]
            for pool in self.could[index]
            if self.pairs.pools[pool].variety_id == claim.variety_id
            for spare in self.pairs.pools[pool].spares
        ]
        return self.result.account(claim, could)


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
        found.update({index: _exact(outcome, found[index], was, index) for index in lost})
    else:
        unsure = {index: replace(found[index], sure=False) for index in lost}
        found.update({index: _told(outcome, one, index) for index, one in unsure.items()})
    return {case.claims[index].id: reason for index, reason in found.items()}


def _exact(
    outcome: _Outcome, reason: ClaimReason, was: Sequence[Baseline], index: int
) -> ClaimReason:
    """Name the rule that gives way when the claim is forced; without any, there are simply no more plants."""
    forced = force(was, index)
    if forced is None:
        return _told(outcome, replace(reason, rule=None, obstacle=Obstacle.FEWER), index)
    return _told(outcome, replace(reason, rule=forced.rule), index)


def _told(outcome: _Outcome, reason: ClaimReason, index: int) -> ClaimReason:
    """Say where the plants went; where nothing better is to be said, that there is no room left, if so."""
    account = outcome.account(index)
    rule = reason.rule if reason.sure or reason.rule in STAGES else None
    went = where_they_went(outcome.result, account, rule)
    if went in _LAST_RESORT and _no_room(outcome, account):
        return replace(reason, rule=None, obstacle=Obstacle.ROOM)
    winners = len(outcome.result.winners(account))
    return replace(reason, went=went, winners=winners, own=account.own)


_LAST_RESORT = (WentTo.NONE_LEFT, WentTo.BY_RULES)


def _no_room(outcome: _Outcome, account: PlantsFollowed) -> bool:
    """Say whether room alone keeps from the claim what is left of what could have come, or all of it if nothing is."""
    return all(
        outcome.after.obstacle(one, account.claim) is Obstacle.ROOM
        for one in account.left or account.could
    )


def _reason(outcome: _Outcome, index: int, rule: Rule) -> ClaimReason:
    """Give one claim's reason, before it is known for sure which rule decided."""
    claim = outcome.case.claims[index]
    given = outcome.given[claim.id]
    account = outcome.account(index)
    plain = ClaimReason(
        standing=_standing(claim.asked, given),
        asked=claim.asked,
        given=given,
        others=len(outcome.askers[claim.variety_id] - {claim.household_id}),
        offered=account.offered,
        in_all=sum(
            one.count
            for one in outcome.offers[claim.variety_id]
            if one.household_id not in outcome.before.left | {claim.household_id}
        ),
    )
    if plain.standing is ClaimOutcome.MET:
        return plain
    if not account.could:
        obstacle, nearest = _nearest(outcome, claim)
        return told_of(outcome.before, replace(plain, obstacle=obstacle), claim, nearest)
    if account.left and _no_room(outcome, account):
        return replace(plain, obstacle=Obstacle.ROOM)
    return replace(plain, rule=rule)


def _standing(asked: int, given: int) -> ClaimOutcome:
    """Say whether a claim is met, met in part or not met."""
    if given >= asked:
        return ClaimOutcome.MET
    return ClaimOutcome.PART if given else ClaimOutcome.UNMET


def _nearest(outcome: _Outcome, claim: Claim) -> tuple[Obstacle, tuple[Spare, ...]]:
    """Give the obstacle of the spares of the variety asked for that came nearest, and those spares."""
    met = [
        (outcome.before.obstacle(one, claim) or Obstacle.NOBODY_OFFERS, one)
        for one in outcome.offers[claim.variety_id]
    ]
    nearest = max((obstacle for obstacle, _ in met), key=_ORDER.index, default=_ORDER[0])
    return nearest, tuple(spare for obstacle, spare in met if obstacle is nearest)
