"""Thin parcels: those of one plant, what each costs, and what would be lost by leaving it out."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.rules import values

MOST_SHOWN = 5
"""How many thin parcels are shown before confirming (judgement) [parcels]."""
LAST_OF_PLANTS = 4
"""The last of the rules that count plants; the rules after it count parcels and postage."""


@dataclass(frozen=True, slots=True)
class ThinParcel:
    """A parcel of one plant.

    Attributes
    ----------
    postage : what it costs, None when no tariff was typed in [smallest coin]
    rule : the first rule that would fall by leaving it out, 1 to 4
    choice : which choice of its receiver the claim is, 1 to 3
    """

    spare_id: int
    claim_id: int
    postage: int | None
    rule: int
    choice: int


def thin_parcels(
    case: ShareOutCase, allocations: Sequence[Allocation], most: int = MOST_SHOWN
) -> tuple[ThinParcel, ...]:
    """Give the parcels of one plant that cost most; of equal ones first those of which least would be lost.

    Parameters
    ----------
    allocations : the whole result
    most : how many are given at most [parcels]
    """
    alone = _of_one_plant(case, allocations)
    if not alone:
        return ()
    what = measure(case, pair_up(case))
    before = values(case, allocations, what)
    ends = _Ends(case)
    found = []
    for one in alone:
        after = values(case, [other for other in allocations if other != one], what)
        # A plant is always a wish met, so one of the rules falls.
        rule = next(
            (
                number
                for number in range(1, LAST_OF_PLANTS)
                if after[number - 1] < before[number - 1]
            ),
            LAST_OF_PLANTS,
        )
        postage = None if case.postage is None else case.postage.get(ends.of(one), 0)
        choice = ends.choice[one.claim_id]
        found.append(ThinParcel(one.spare_id, one.claim_id, postage, rule, choice))
    found.sort(key=lambda one: (-(one.postage or 0), -one.rule, -one.choice, one.claim_id))
    return tuple(found[:most])


class _Ends:
    """From which household and to which place a plant goes."""

    def __init__(self, case: ShareOutCase) -> None:
        self.sender = {one.id: one.household_id for one in case.spares}
        self.place = {one.id: one.place_id for one in case.claims}
        self.choice = {one.id: one.choice for one in case.claims}

    def of(self, one: Allocation) -> tuple[int, int]:
        return self.sender[one.spare_id], self.place[one.claim_id]


def _of_one_plant(case: ShareOutCase, allocations: Sequence[Allocation]) -> list[Allocation]:
    """Give the allocations that would travel alone; what stands already is left out of it."""
    ends, stands = _Ends(case), {(one.spare_id, one.claim_id) for one in case.standing}
    together: defaultdict[tuple[int, int], list[Allocation]] = defaultdict(list)
    for one in allocations:
        together[ends.of(one)].append(one)
    return [
        parts[0]
        for parts in together.values()
        if sum(one.count for one in parts) == 1
        and (parts[0].spare_id, parts[0].claim_id) not in stands
    ]
