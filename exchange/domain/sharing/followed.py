"""A share-out's result counted once, and what became of the plants that could have come to a claim."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.homes import VarietyLookups
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.rules import values
from exchange.domain.sharing.spare import Spare


@dataclass(frozen=True, slots=True)
class PlantsFollowed:
    """What became of the plants of the variety asked for that could have come to a claim.

    Attributes
    ----------
    could : spares of the variety asked for that could serve the claim
    won : what of them went to other households
    given : what of them came to the claim [plants]
    own : what of them other claims of the household were given [plants]
    left : those of the spares of which something was given to nobody
    """

    claim: Claim
    could: tuple[Spare, ...]
    won: tuple[Allocation, ...]
    given: int
    own: int
    left: tuple[Spare, ...]

    @property
    def offered(self) -> int:
        """Count the plants that could have come [plants]."""
        return sum(one.count for one in self.could)


class Result:
    """A share-out's result, as statements about it are held against it."""

    def __init__(
        self, case: ShareOutCase, what: Measure, allocations: Sequence[Allocation]
    ) -> None:
        self.case, self.measure, self.allocations = case, what, tuple(allocations)
        self.spares = {one.id: one for one in case.spares}
        self.claims = {one.id: one for one in case.claims}
        self.by_spare: dict[int, list[Allocation]] = {one.id: [] for one in case.spares}
        self.plants: Counter[int] = Counter()
        self.scarce: Counter[int] = Counter()
        self.of_variety: Counter[tuple[int, int]] = Counter()
        self.at_place: Counter[tuple[int, int]] = Counter()
        for one in allocations:
            claim, variety = self.claims[one.claim_id], self.spares[one.spare_id].variety_id
            self.by_spare[one.spare_id].append(one)
            self.plants[claim.household_id] += one.count
            self.scarce[claim.household_id] += one.count * (variety in what.contested)
            self.of_variety[claim.household_id, variety] += one.count
            self.at_place[claim.place_id, variety] += one.count
        self.stood = {(one.spare_id, one.claim_id) for one in case.standing}
        self.lookups = VarietyLookups(case)
        self.precious = {one.id: one for one in case.varieties if one.must_not_be_lost}
        self.value = values(case, self.allocations, what)

    def account(self, claim: Claim, could: Sequence[Spare]) -> PlantsFollowed:
        """Follow the plants that could have come to a claim."""
        went = [one for spare in could for one in self.by_spare[spare.id]]
        return PlantsFollowed(
            claim,
            tuple(could),
            tuple(one for one in went if self.household(one) != claim.household_id),
            sum(one.count for one in went if one.claim_id == claim.id),
            sum(
                one.count
                for one in went
                if self.household(one) == claim.household_id and one.claim_id != claim.id
            ),
            tuple(
                spare
                for spare in could
                if spare.count > sum(one.count for one in self.by_spare[spare.id])
            ),
        )

    def household(self, one: Allocation) -> int:
        """Give the household an allocation goes to."""
        return self.claims[one.claim_id].household_id

    def winners(self, account: PlantsFollowed) -> frozenset[int]:
        """Give the other households that got some of the plants that could have come."""
        return frozenset(self.household(one) for one in account.won)

    def moved(self, account: PlantsFollowed, one: Allocation) -> tuple[int, ...]:
        """Give the values of the rules, had one plant of an allocation come to the claim instead."""
        counts = {(two.spare_id, two.claim_id): two.count for two in self.allocations}
        counts[one.spare_id, one.claim_id] -= 1
        here = one.spare_id, account.claim.id
        counts[here] = counts.get(here, 0) + 1
        changed = tuple(Allocation(*ends, count) for ends, count in counts.items() if count)
        return values(self.case, changed, self.measure)
