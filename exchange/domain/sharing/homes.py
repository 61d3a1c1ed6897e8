"""Rule 1 in whole numbers: new homes for varieties that must not be lost, and homes before numbers.

A new home is a place that holds none of the variety and receives its first plant; further plants there count nothing.
With Q the chance that the variety is lost as things stand (growing/losing.py) and q the chance that a usual new home
loses it, the n-th new home counts Q (1 - q) q^(n-1), in millionths of a variety. A safer home counts a little more, too
little to outweigh a home.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from exchange.domain.growing.losing import holding, place_loses, variety_lost, winter_shelter
from exchange.domain.growing.shelter import Shelter
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.case import ShareOutCase

WHOLE = 10**6
"""What a whole variety counts [millionths]."""

SAFE = 1000
"""Rule 1 asks for no more new homes than could take a variety's chance of being lost to this [millionths]."""

SAFER = 200
"""What a home that never loses a variety otherwise certainly lost counts beyond being a home [millionths]."""

PARTS_OF_Q = 1000
"""The chance of a usual new home is rounded to parts of this."""


class Rows(Protocol):
    """Where columns and rows are added.

    Attributes
    ----------
    upper : upper limit of each column
    """

    upper: list[int]

    def steps(self, count: int) -> range:
        """Add columns between 0 and 1."""

    def row(self, entries: Iterable[tuple[int, int]], limit: int) -> int:
        """Add a row of (column, coefficient)."""


@dataclass(frozen=True, slots=True)
class Homes:
    """What rule 1 needs to know of one must-not-be-lost variety.

    Attributes
    ----------
    gains : what the first, second and each further new home counts, falling [millionths of a variety]
    safer : by place that could be a new home, what it counts besides [millionths of a variety]
    standing : new homes that have their first plant already
    """

    gains: tuple[int, ...]
    safer: Mapping[int, int]
    standing: frozenset[int]

    def value(self, received: Mapping[int, int]) -> int:
        """Give what homes count when places receive so many plants, standing ones included [millionths]."""
        new = (place for place, count in received.items() if count and place in self.safer)
        more = sorted((self.safer[one] for one in new if one not in self.standing), reverse=True)
        counting = more[: max(0, len(self.gains) - len(self.standing))]
        homes = len(self.standing) + len(counting)
        stand = sum(self.safer[one] for one in self.standing)
        return sum(self.gains[:homes]) + stand + sum(counting)

    def add_columns(self, rows: Rows, places: Mapping[int, Sequence[int]]) -> list[tuple[int, int]]:
        """Add a column for each new home and each step, with what they count.

        Parameters
        ----------
        places : by place, the columns of plants that could go there
        """
        new = {one: those for one, those in places.items() if one in self.safer}
        new = {one: those for one, those in new.items() if one not in self.standing}
        gains = self.gains[len(self.standing) :][: len(new)]
        if not gains:
            return []
        homes = rows.steps(len(new))
        for home, those in zip(homes, new.values(), strict=True):
            rows.row([(home, 1), *((one, -1) for one in those)], 0)
        steps = rows.steps(len(gains))
        every = [(one, 1) for one in homes]
        rows.row([*((one, 1) for one in steps), *((one, -1) for one in homes)], 0)
        if len(gains) < len(new):
            rows.row(every, len(gains))
        besides = [(home, self.safer[place]) for home, place in zip(homes, new, strict=True)]
        return [*besides, *zip(steps, gains, strict=True)]


class VarietyLookups:
    """What is looked up variety by variety.

    Attributes
    ----------
    offered : plants by variety
    claiming : by variety, the places that would take it
    kept : by variety and place, plants it keeps
    standing : by variety and place, plants received already
    """

    def __init__(self, case: ShareOutCase) -> None:
        self.offered: defaultdict[int, int] = defaultdict(int)
        for spare in case.spares:
            self.offered[spare.variety_id] += spare.count
        self.claiming: defaultdict[int, set[int]] = defaultdict(set)
        for claim in case.claims:
            for variety_id in (claim.variety_id, *claim.alternatives):
                self.claiming[variety_id].add(claim.place_id)
        self.shelters: defaultdict[int, list[Shelter]] = defaultdict(list)
        for shelter in case.shelters:
            self.shelters[shelter.place_id].append(shelter)
        self.kept = _kept(case)
        self.standing = _standing(case)
        self.case = case

    def precious(self) -> list[Variety]:
        """Give the varieties that must not be lost, are offered, and stand in too few places."""
        return [
            one
            for one in self.case.varieties
            if one.must_not_be_lost
            and self.offered[one.id]
            and len(self.kept[one.id]) < (self.case.terms.target_places or one.target_places)
        ]

    def lost(self, variety: Variety) -> Fraction:
        """Give the chance of losing a variety as things stand."""
        kept = self.kept[variety.id]
        return variety_lost(
            holding(variety, place, winter_shelter(variety, self.shelters[place]), plants)
            for place, plants in kept.items()
        )

    def loses(self, variety: Variety, place: int) -> Fraction:
        """Give the chance that a place loses its first plant."""
        kind = winter_shelter(variety, self.shelters[place])
        return place_loses(holding(variety, place, kind, 1))


def homes(case: ShareOutCase) -> dict[int, Homes]:
    """Give rule 1's view of every variety that must not be lost, is offered, and stands in too few places."""
    lookups = VarietyLookups(case)
    return {one.id: _homes(lookups, one) for one in lookups.precious()}


def _homes(lookups: VarietyLookups, variety: Variety) -> Homes:
    """Work out one variety's new homes."""
    places = sorted(lookups.claiming[variety.id] - set(lookups.kept[variety.id]))
    chances = {one: lookups.loses(variety, one) for one in places}
    # A place that is sure to lose it by spring is no home.
    chances = {one: chance for one, chance in chances.items() if chance < 1}
    lost = lookups.lost(variety)
    most = min(len(chances), lookups.offered[variety.id])
    gains = _gains(lost, sum(chances.values(), Fraction()) / max(1, len(chances)), most)
    return Homes(
        gains,
        {one: round(SAFER * lost * (1 - chance)) for one, chance in chances.items()},
        frozenset(one for one in lookups.standing[variety.id] if one in chances),
    )


def _gains(lost: Fraction, usual: Fraction, most: int) -> tuple[int, ...]:
    """Give what each further new home counts, until the variety is safe."""
    loses = min(Fraction(round(usual * PARTS_OF_Q), PARTS_OF_Q), 1 - Fraction(1, PARTS_OF_Q))
    gains: list[int] = []
    while len(gains) < most and lost * WHOLE > SAFE:
        gains.append(round(lost * (1 - loses) * WHOLE))
        lost *= loses
    return tuple(gains)


def _kept(case: ShareOutCase) -> defaultdict[int, dict[int, int]]:
    """Count what each place keeps of each variety: its batches less what it offers, but one at least."""
    kept: defaultdict[int, dict[int, int]] = defaultdict(dict)
    for batch in case.batches:
        if batch.plants > 0:
            places = kept[batch.variety_id]
            places[batch.place_id] = places.get(batch.place_id, 0) + batch.plants
    for spare in case.spares:
        places = kept[spare.variety_id]
        if spare.place_id in places:
            places[spare.place_id] -= spare.count
    for places in kept.values():
        for place, plants in places.items():
            places[place] = max(1, plants)
    return kept


def _standing(case: ShareOutCase) -> defaultdict[int, dict[int, int]]:
    """Count what stands already, by variety and place."""
    varieties = {one.id: one.variety_id for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    counts: defaultdict[int, dict[int, int]] = defaultdict(dict)
    for one in case.standing:
        here = counts[varieties[one.spare_id]]
        here[places[one.claim_id]] = here.get(places[one.claim_id], 0) + one.count
    return counts
