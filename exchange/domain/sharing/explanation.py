"""What would have given way, had a claim been given one plant more, and what would have brought it more.

The claim is forced and the rules are solved again in their order; the first whose value falls is the one that decided.
Nobody is named: only how many would have received less, and how many would have had none.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.room import POTS_A_TRAY
from exchange.domain.optimise.programme import Watch
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.forced import Baseline, before, force
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.outcome import ShareOut
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.pairs import wanted
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Rule
from exchange.domain.sharing.share_out import find, never_stop
from exchange.domain.sharing.stages import Progress, start


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What would have been, had the claim been given one plant more.

    Attributes
    ----------
    possible : False when no share-out at all gives it, whatever the rules
    rule : the first rule whose value falls, DRAW when none does; None when not possible or already met
    falls_by : by how much it falls, in the rule's own unit
    with_less : households that would have received fewer plants of any kind [households]
    with_none : households that would have gone without a variety they now have [households]
    """

    claim_id: int
    reason: ClaimReason
    possible: bool
    rule: Rule | None = None
    falls_by: int = 0
    with_less: int = 0
    with_none: int = 0


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
    index = next(number for number, one in enumerate(case.claims) if one.id == claim_id)
    if reason.standing is ClaimOutcome.MET:
        return WhatIf(claim_id, reason, possible=True)
    forced = force(_passes(case, share_out, watch), index, complete=True)
    if forced is None:
        return WhatIf(claim_id, reason, possible=False)
    had, would = _received(case, forced.was.allocations), _would_receive(forced.path)
    less, none = _who_loses(had, would)
    return WhatIf(claim_id, reason, True, forced.rule, forced.falls_by, less, none)


def _passes(case: ShareOutCase, share_out: ShareOut, watch: Watch) -> tuple[Baseline, ...]:
    """Give the passes a share-out was worked out in, to compare with."""
    pairs = pair_up(case)
    first = before(start(case, pairs, measure(case, pairs), watch), share_out.first)
    if share_out.first == share_out.allocations:
        return (first,)
    again = case.second_pass(share_out.first, first.beginning.measure.contested)
    pairs = pair_up(again)
    second = start(again, pairs, measure(again, pairs), watch)
    return (first, before(second, share_out.allocations))


def _would_receive(path: Progress) -> dict[tuple[int, int], int]:
    """Count plants by household and variety at the end of a path, what stands included."""
    counts = defaultdict(int, _received(path.case, path.case.standing))
    for number, pair in enumerate(path.pairs.pairs):
        household = path.case.claims[pair.claim].household_id
        counts[household, path.pairs.pools[pair.pool].variety_id] += int(path.x[number])
    return {key: count for key, count in counts.items() if count}


def _who_loses(
    had: Mapping[tuple[int, int], int], would: Mapping[tuple[int, int], int]
) -> tuple[int, int]:
    """Count the households that would have less, and those that would go without a variety they have."""
    before_it: defaultdict[int, int] = defaultdict(int)
    after_it: defaultdict[int, int] = defaultdict(int)
    for (household, _), count in had.items():
        before_it[household] += count
    for (household, _), count in would.items():
        after_it[household] += count
    less = sum(after_it[one] < count for one, count in before_it.items())
    none = len({household for (household, variety) in had if not would.get((household, variety))})
    return less, none


def _received(case: ShareOutCase, allocations: Sequence[Allocation]) -> dict[tuple[int, int], int]:
    """Count plants by household and variety."""
    varieties = {one.id: one.variety_id for one in case.spares}
    households = {one.id: one.household_id for one in case.claims}
    counts: defaultdict[tuple[int, int], int] = defaultdict(int)
    for one in allocations:
        counts[households[one.claim_id], varieties[one.spare_id]] += one.count
    return dict(counts)


class ChangeKind(StrEnum):
    """What could be different."""

    MATERIAL = "material"
    LATER = "later"
    TRAY = "tray"
    HARDENED = "hardened"


@dataclass(frozen=True, slots=True)
class Counterfactual:
    """Something that would have brought the claim more plants, everything else equal.

    Attributes
    ----------
    material : for another material
    until : for a later day: the last on which it would still have come
    more : plants it would have brought [plants]
    """

    kind: ChangeKind
    more: int
    material: Material | None = None
    until: date | None = None


def what_would_change(
    case: ShareOutCase, share_out: ShareOut, claim_id: int, watch: Watch = never_stop
) -> tuple[Counterfactual, ...]:
    """Try what a member could do differently, and give what would have brought more plants.

    Every change is worked out in full, so what it promises is what the rules would have given.

    Raises
    ------
    Stopped
        when `watch` asks to stop
    """
    given = share_out.reasons[claim_id].given
    if share_out.reasons[claim_id].standing is ClaimOutcome.MET:
        return ()
    claim = next(one for one in case.claims if one.id == claim_id)
    found = []
    for change, changed in _variants(case, claim):
        allocations = find(changed, watch).allocations
        more = sum(one.count for one in allocations if one.claim_id == claim_id) - given
        if more > 0:
            found.append(replace(change, more=more))
    return tuple(found)


def _variants(case: ShareOutCase, claim: Claim) -> Iterator[tuple[Counterfactual, ShareOutCase]]:
    """Give each change with the case it would make."""
    takes = wanted(claim)
    offers = [
        one
        for one in case.spares
        if one.variety_id in takes and one.household_id != claim.household_id
    ]
    for material in sorted({one.material for one in offers} - claim.materials):
        wider = replace(claim, materials=claim.materials | {material})
        yield Counterfactual(ChangeKind.MATERIAL, 0, material=material), _with_claim(case, wider)
    if claim.no_use_after is not None and offers:
        until = max(one.send_by for one in offers)
        if until > claim.no_use_after:
            later = replace(claim, no_use_after=until)
            yield Counterfactual(ChangeKind.LATER, 0, until=until), _with_claim(case, later)
    if any(one.place_id == claim.place_id and one.room_pots is not None for one in case.shelters):
        yield Counterfactual(ChangeKind.TRAY, 0), _with_tray(case, claim.place_id)
    if any(one.raised is not Raised.HARDENED for one in offers):
        hardened = tuple(
            replace(one, raised=Raised.HARDENED) if one in offers else one for one in case.spares
        )
        yield Counterfactual(ChangeKind.HARDENED, 0), replace(case, spares=hardened)


def _with_claim(case: ShareOutCase, claim: Claim) -> ShareOutCase:
    """Give the case with one claim changed."""
    return replace(case, claims=tuple(claim if one.id == claim.id else one for one in case.claims))


def _with_tray(case: ShareOutCase, place_id: int) -> ShareOutCase:
    """Give the case with room for one more tray in every shelter of a place that gave its room."""
    return replace(
        case,
        shelters=tuple(
            replace(one, room_pots=one.room_pots + POTS_A_TRAY)
            if one.place_id == place_id and one.room_pots is not None
            else one
            for one in case.shelters
        ),
    )
