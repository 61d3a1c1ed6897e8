"""What would have given way, had a claim been given one plant more, and who would have lost by it.

The claim is forced and the rules are solved again in their order; the first whose value falls is the one that decided.
Nobody is named: only how many others would have received less, or gone without, and what the asker would have lost.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from exchange.domain.optimise.programme import Watch
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.forced import Baseline, Forced, before, force
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.outcome import ShareOut
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.parcels import choose_parcels
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Rule
from exchange.domain.sharing.rules import could_still_go
from exchange.domain.sharing.share_out import find, never_stop, with_standing
from exchange.domain.sharing.stages import start


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What would have been, had the claim been given one plant more.

    Attributes
    ----------
    possible : False when no share-out at all gives it, whatever the rules
    rule : the first rule whose value falls, DRAW when none does; None when not possible or already met
    falls_by : by how much it falls, in the rule's own unit
    with_less : other households that would have received fewer plants of any kind [households]
    with_none : other households that would have gone without a variety they now have [households]
    with_none_of_it : of these, those that would have gone without the variety claimed [households]
    with_nothing : other households that would have received nothing at all [households]
    with_fewer : other households that would have received fewer plants of some variety [households]
    own_less : how many plants fewer other claims of the household itself would have been given [plants]
    beyond : the most of a contested variety, where the household has so many already, else 0 [plants]
    """

    claim_id: int
    reason: ClaimReason
    possible: bool
    rule: Rule | None = None
    falls_by: int = 0
    with_less: int = 0
    with_none: int = 0
    with_none_of_it: int = 0
    with_nothing: int = 0
    with_fewer: int = 0
    own_less: int = 0
    beyond: int = 0


@dataclass(frozen=True, slots=True)
class Instead:
    """The share-out that would have been.

    Attributes
    ----------
    allocations : to the end, what stands included
    beyond : as in `WhatIf`
    """

    forced: Forced
    allocations: tuple[Allocation, ...]
    beyond: int = 0


def what_if(
    case: ShareOutCase, share_out: ShareOut, claim_id: int, watch: Watch = never_stop
) -> WhatIf:
    """Say what would have given way, had a claim been given one plant more.

    Raises
    ------
    KeyError
        when there is no such claim
    Stopped
        when `watch` asks to stop
    """
    reason = share_out.reasons[claim_id]
    if reason.standing is ClaimOutcome.MET:
        return WhatIf(claim_id, reason, possible=True)
    instead = with_one_more(case, share_out, claim_id, watch)
    if instead is None:
        return WhatIf(claim_id, reason, possible=False)
    what = WhatIf(claim_id, reason, True, instead.forced.rule, instead.forced.falls_by)
    if instead.beyond:
        what = replace(what, rule=None, falls_by=0, beyond=instead.beyond)
    return _with_losses(what, case, share_out.allocations, instead.allocations)


def with_one_more(
    case: ShareOutCase, share_out: ShareOut, claim_id: int, watch: Watch = never_stop
) -> Instead | None:
    """Work out the share-out in which a claim is given one plant more; None when there is none.

    Raises
    ------
    Stopped
        when `watch` asks to stop
    """
    index = next(number for number, one in enumerate(case.claims) if one.id == claim_id)
    passes = _passes(case, share_out, watch)
    contested = passes[0].beginning.measure.contested
    forced = force(passes, index, complete=True)
    beyond = 0
    if forced is None:
        beyond = _has_the_most(case, share_out, case.claims[index], contested)
        if not beyond:
            return None
        lifted = replace(case, contested=contested)
        forced = force([_baseline(lifted, share_out.allocations, watch)], index, complete=True)
    if forced is None:
        return None
    path = forced.path
    allocations = with_standing(path.case, choose_parcels(path.case, path, prove=False).counts)
    if could_still_go(path.case, allocations) is not None:
        allocations = find(case.second_pass(allocations, contested), watch).allocations
    return Instead(forced, allocations, beyond)


def _has_the_most(
    case: ShareOutCase, share_out: ShareOut, claim: Claim, contested: frozenset[int]
) -> int:
    """Give the most of a contested variety where the claim's household has so many of it, else 0 [plants]."""
    has = _counted(case, share_out.allocations)[0][claim.household_id, claim.variety_id]
    most = case.terms.most_contested
    return most if claim.variety_id in contested and has >= most else 0


def _passes(case: ShareOutCase, share_out: ShareOut, watch: Watch) -> tuple[Baseline, ...]:
    """Give the passes a share-out was worked out in, to compare with."""
    first = _baseline(case, share_out.first, watch)
    if share_out.first == share_out.allocations:
        return (first,)
    again = case.second_pass(share_out.first, first.beginning.measure.contested)
    return (first, _baseline(again, share_out.allocations, watch))


def _baseline(case: ShareOutCase, allocations: Sequence[Allocation], watch: Watch) -> Baseline:
    pairs = pair_up(case)
    return before(start(case, pairs, measure(case, pairs), watch), allocations)


def _with_losses(
    what: WhatIf,
    case: ShareOutCase,
    was: Sequence[Allocation],
    instead: Sequence[Allocation],
) -> WhatIf:
    """Add who would have lost by it."""
    claim = next(one for one in case.claims if one.id == what.claim_id)
    mine, variety = claim.household_id, claim.variety_id
    had, had_in_all, given = _counted(case, was)
    would, would_in_all, then = _counted(case, instead)
    others = set(had_in_all) - {mine}
    fewer = {key for key in had if key[0] != mine and would[key] < had[key]}
    without = {key for key in fewer if not would[key]}
    own = {one.id for one in case.claims if one.household_id == mine and one.id != claim.id}
    return replace(
        what,
        with_less=sum(would_in_all[one] < had_in_all[one] for one in others),
        with_none=len({household for household, _ in without}),
        with_none_of_it=sum(which == variety for _, which in without),
        with_nothing=sum(not would_in_all[one] for one in others),
        with_fewer=len({household for household, _ in fewer}),
        own_less=sum(max(0, given[one] - then[one]) for one in own),
    )


def _counted(
    case: ShareOutCase, allocations: Sequence[Allocation]
) -> tuple[Counter[tuple[int, int]], Counter[int], Counter[int]]:
    """Count plants by household and variety, by household, and by claim."""
    varieties = {one.id: one.variety_id for one in case.spares}
    households = {one.id: one.household_id for one in case.claims}
    both, by_household, by_claim = Counter[tuple[int, int]](), Counter[int](), Counter[int]()
    for one in allocations:
        both[households[one.claim_id], varieties[one.spare_id]] += one.count
        by_household[households[one.claim_id]] += one.count
        by_claim[one.claim_id] += one.count
    return both, by_household, by_claim
