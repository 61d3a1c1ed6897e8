"""What each rule counts, worked out from the case once; whole numbers only."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

import numpy as np

from exchange.domain.sharing.case import ShareOutCase, SharingTerms
from exchange.domain.sharing.homes import Rows, homes
from exchange.domain.sharing.pairs import Pairs

WISH = (60_000, 30_000, 20_000)
"""What one plant to a first, second or third choice counts under rule 4; so much that a long list of alternatives counts, too."""

INSTEAD = 3
"""A wish is divided by 1 and this much more for each place down the alternatives, so that even a third choice (20,000)
comes before the first alternative of a first choice (15,000)."""

NEWCOMER = 4
"""A household that has given and received nothing yet counts as having given so many [plants]."""

LARGEST_STEP = 10**8
"""The ladder of fairness is exact leximin while its longest step stays below this, else least squares."""


class Precious(Protocol):
    """Rule 1's view of a must-not-be-lost variety."""

    def value(self, received: Mapping[int, int]) -> int:
        """Give what the plants that places receive count, standing ones included."""

    def add_columns(self, rows: Rows, places: Mapping[int, Sequence[int]]) -> list[tuple[int, int]]:
        """Add the columns of rule 1, and give them with what they count."""


@dataclass(frozen=True, slots=True)
class Counting:
    """How rules 1 and 3 count, which differs from one form of workings to another.

    Attributes
    ----------
    precious : rule 1's view of each must-not-be-lost variety
    shift : terms, given and received -> the shift in a household's favour [steps]
    parts : rule 1 is told in so many of the parts it is worked out in
    tight : whether limits are drawn in under rules 5 and 6
    """

    precious: Callable[[ShareOutCase], Mapping[int, Precious]]
    shift: Callable[[SharingTerms, int, int], int]
    parts: int = 1
    tight: bool = True


@dataclass(frozen=True, slots=True)
class Measure:
    """What the rules count.

    Attributes
    ----------
    contested : varieties of which more plants are asked for than offered
    precious, parts, tight : as in `Counting`
    standing_pairs : contested plants that stand already, by household and variety [plants]
    standing_level : the same by household [plants]
    start : by household, where its ladder starts after the shift for given and received [steps]
    steps : how many steps the longest ladder has
    base : how many times a step outweighs the next one up; 0 for least squares
    first : what a first plant counts under rule 2, for households that gave and for others
    gave : households that offer something in this share-out
    """

    contested: frozenset[int]
    precious: Mapping[int, Precious]
    parts: int
    tight: bool
    standing_pairs: Mapping[tuple[int, int], int]
    standing_level: Mapping[int, int]
    start: Mapping[int, int]
    steps: int
    base: int
    first: tuple[int, int]
    gave: frozenset[int]

    def wish(self, choice: int, rank: int) -> int:
        """Give what a plant counts under rule 4: an alternative less than any wish for the variety itself."""
        return WISH[min(max(choice, 1), len(WISH)) - 1] // (1 + INSTEAD * rank)

    def first_plant(self, household_id: int) -> int:
        """Give what a household's first plant of a contested variety counts under rule 2."""
        return self.first[0] if household_id in self.gave else self.first[1]

    def step(self, number: int) -> int:
        """Give what the step of this number, from 0, counts on the ladder of rule 3."""
        if self.base:
            return int(self.base ** (self.steps - 1 - number))
        return 2 * (self.steps - number) - 1

    def ladder(self, household_id: int, most: int) -> list[int]:
        """Give what each further contested plant of a household counts."""
        bottom = self.start.get(household_id, 0) + self.standing_level.get(household_id, 0)
        return [self.step(bottom + number) for number in range(min(most, self.steps - bottom))]


def shift(terms: SharingTerms, given: int, received: int) -> int:
    """Give a household's shift in its favour, between minus and plus the settled size [steps].

    It is the part that giving leads receiving by, of both together, a newcomer's start included, to the nearest step: more
    given or less received never lowers it.
    """
    lead, both = given + NEWCOMER - received, given + NEWCOMER + received
    return (2 * terms.shift * lead + both) // (2 * both)


class Lead(StrEnum):
    """Why a household's ladder starts earlier or later."""

    NEW = "new"
    GAVE_MORE = "gave_more"
    NEARLY_LEVEL = "nearly_level"
    RECEIVED_MORE = "received_more"


def lead(terms: SharingTerms, given: int, received: int) -> Lead | None:
    """Say why a household comes earlier or later by what it gave and received; None when it does neither."""
    steps = shift(terms, given, received)
    if steps <= 0:
        return Lead.RECEIVED_MORE if steps else None
    if given == received == 0:
        return Lead.NEW
    return Lead.GAVE_MORE if given > received else Lead.NEARLY_LEVEL


NOW = Counting(homes, shift)


def measure(case: ShareOutCase, pairs: Pairs, how: Counting = NOW) -> Measure:
    """Work out what the rules count in one case."""
    contested = _contested(case, pairs) if case.contested is None else case.contested
    standing = _standing(case, contested)
    level: defaultdict[int, int] = defaultdict(int)
    for (household, _), count in standing.items():
        level[household] += count
    start = shifts(case, how)
    steps = _longest(case, pairs, contested) + max(
        (start.get(one.household_id, 0) + level[one.household_id] for one in case.claims), default=0
    )
    households = len({one.household_id for one in case.claims})
    exact = (households + 1) ** max(steps - 1, 0) <= LARGEST_STEP
    pair_count = len({one.household_id for one in case.claims}) * len(contested)
    return Measure(
        contested=contested,
        precious=how.precious(case),
        parts=how.parts,
        tight=how.tight,
        standing_pairs=dict(standing),
        standing_level=dict(level),
        start=start,
        steps=steps,
        base=households + 1 if exact else 0,
        first=(pair_count + 1, 1) if case.terms.first_refusal else (1, 1),
        gave=frozenset(one.household_id for one in case.spares if one.count > 0),
    )


def shifts(case: ShareOutCase, how: Counting = NOW) -> dict[int, int]:
    """Give where each household's ladder starts: the further ahead its shift, the lower, and never below 0."""
    return {
        one.id: case.terms.shift
        - how.shift(case.terms, case.given.get(one.id, 0), case.received.get(one.id, 0))
        for one in case.households
    }


def _contested(case: ShareOutCase, pairs: Pairs) -> frozenset[int]:
    """Give the varieties of which claims that some spare could serve ask for more than those spares hold."""
    asked: defaultdict[int, int] = defaultdict(int)
    for index in np.unique(pairs.claim[pairs.rank == 0]).tolist():
        claim = case.claims[index]
        asked[claim.variety_id] += claim.asked
    offered: defaultdict[int, int] = defaultdict(int)
    for pool in pairs.pools:
        offered[pool.variety_id] += sum(case.spares[spare].count for spare in pool.spares)
    return frozenset(one for one, count in asked.items() if count > offered[one])


def _standing(case: ShareOutCase, contested: frozenset[int]) -> dict[tuple[int, int], int]:
    """Count the contested plants that stand already, by household and variety."""
    varieties = {one.id: one.variety_id for one in case.spares}
    households = {one.id: one.household_id for one in case.claims}
    counts: defaultdict[tuple[int, int], int] = defaultdict(int)
    for one in case.standing:
        if varieties[one.spare_id] in contested:
            counts[households[one.claim_id], varieties[one.spare_id]] += one.count
    return counts


def _longest(case: ShareOutCase, pairs: Pairs, contested: frozenset[int]) -> int:
    """Give the most contested plants any household could still receive."""
    columns = np.flatnonzero(np.isin(pairs.variety, list(contested)))
    varieties, variety = np.unique(pairs.variety[columns], return_inverse=True)
    ends = np.unique(pairs.claim[columns] * max(1, len(varieties)) + variety).tolist()
    by_pair: defaultdict[tuple[int, int], int] = defaultdict(int)
    for claim, what in (divmod(one, len(varieties)) for one in ends):
        by_pair[case.claims[claim].household_id, what] += case.claims[claim].asked
    totals: defaultdict[int, int] = defaultdict(int)
    for (household, _), plants in by_pair.items():
        totals[household] += min(plants, case.most_contested)
    asked: defaultdict[int, int] = defaultdict(int)
    for claim in {one // len(varieties) for one in ends}:
        asked[case.claims[claim].household_id] += case.claims[claim].asked
    return max((min(total, asked[one]) for one, total in totals.items()), default=0)
