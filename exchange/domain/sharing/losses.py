"""Rule 1 in whole numbers: by how much plants at new places lower the expected number of varieties lost.

With q the chance that a place loses what it holds (growing/losing.py), each further plant at a place multiplies the
chance that the variety is lost by q(n + 1) / q(n). Its gain is the negative logarithm of that factor, in thousandths,
and the drop of a variety held with chance Q after gains L is Q (1 - exp(-L / 1000)). It is worked out in 10^-12 of a
variety, so finely that rounding leaves the curve concave, and reported in millionths.
"""

from collections import defaultdict
from collections.abc import Container, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.losing import (
    Holding,
    holding,
    place_loses,
    variety_lost,
    winter_shelter,
)
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.case import ShareOutCase

EXACT = Context(prec=40, rounding=ROUND_HALF_EVEN)
ONE = 10**15
"""exp(-L / 1000) is tabled in whole parts of this."""

FINE = 10**12
"""Drops are worked out in whole parts of this."""

TOLD = 10**6
"""Drops are reported in parts of FINE / TOLD, that is in millionths of a variety."""

SAFE = FINE // 1000
"""Rule 1 asks for no more plants of a variety than could take its chance of being lost to this [1e-12]."""

MOST_STEPS = 30
"""Above this many plants at one place a further one gains nothing that counts [plants]."""


@dataclass(frozen=True, slots=True)
class Loss:
    """What rule 1 needs to know of one must-not-be-lost variety.

    Attributes
    ----------
    lost : chance of losing it as things stand [1e-12]
    gains : by place, the gain of each further plant, never rising [thousandths of a natural logarithm]
    standing : by place, plants it receives already [plants]
    enough : how many plants count, those that gain most: further ones would do no more that matters [plants]
    """

    lost: int
    gains: Mapping[int, tuple[int, ...]]
    standing: Mapping[int, int]
    enough: int

    def gains_at(self, place_id: int, most: int) -> tuple[int, ...]:
        """Give the gains of the plants at a place: those standing, and at most so many more."""
        return self.gains.get(place_id, ())[: self.standing.get(place_id, 0) + most]

    def total(self, received: Mapping[int, int]) -> int:
        """Add up the gains that count when places receive so many plants, standing ones included."""
        every = [
            gain for place, count in received.items() for gain in self.gains.get(place, ())[:count]
        ]
        return sum(sorted(every, reverse=True)[: self.enough])

    def drop(self, total: int) -> int:
        """Give the drop of the expected number lost after gains of this total [1e-12]."""
        return self.lost * (ONE - exp_table(total)) // ONE

    def reachable(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Give every total of gains that could come about (and some more), rising, and its drop."""
        every = sorted((gain for gains in self.gains.values() for gain in gains), reverse=True)
        top = sum(every[: self.enough])
        mask = np.zeros(top + 1, dtype=bool)
        mask[0] = True
        for gains in self.gains.values():
            before, height = mask.copy(), 0
            for gain in gains[: self.enough]:
                height += gain
                if height > top:
                    break
                mask[height:] |= before[: top + 1 - height]
        totals = np.flatnonzero(mask).astype(np.int64)
        return totals, np.array([self.drop(total) for total in totals.tolist()], dtype=np.int64)


@lru_cache(maxsize=200_000)
def exp_table(total: int) -> int:
    """Give exp(-total / 1000), rounded half to even, in parts of `ONE`."""
    value = EXACT.exp(EXACT.divide(Decimal(-total), Decimal(1000)))
    return int(EXACT.multiply(value, Decimal(ONE)).to_integral_value(ROUND_HALF_EVEN))


@lru_cache(maxsize=20_000)
def gain(before: Fraction, after: Fraction) -> int:
    """Give ln(before / after) in thousandths, rounded half to even."""
    ratio = EXACT.divide(
        Decimal(before.numerator * after.denominator), Decimal(before.denominator * after.numerator)
    )
    return int((EXACT.ln(ratio) * 1000).to_integral_value(ROUND_HALF_EVEN))


def losses(case: ShareOutCase) -> dict[int, Loss]:
    """Give rule 1's view of every variety that must not be lost, is offered, and stands in too few places."""
    lookups = _VarietyLookups(case)
    found = {}
    for variety in case.varieties:
        target = case.terms.target_places or variety.target_places
        too_few = len(lookups.kept[variety.id]) < target
        if variety.must_not_be_lost and lookups.offered[variety.id] and too_few:
            found[variety.id] = _loss(lookups, variety)
    return found


def settled_drop(losses: Mapping[int, Loss], open_to: Container[int]) -> int:
    """Give the drop by what stands already of varieties of which nothing more can be received [1e-12]."""
    return sum(
        loss.drop(loss.total(loss.standing))
        for variety, loss in losses.items()
        if variety not in open_to
    )


class _VarietyLookups:
    """What is looked up variety by variety.

    Attributes
    ----------
    offered : plants by variety
    claiming : by variety, the places that would take it
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


def _loss(lookups: _VarietyLookups, variety: Variety) -> Loss:
    """Work out one variety's gains at every place that claims it."""
    kept, claiming = lookups.kept[variety.id], lookups.claiming[variety.id]
    kinds: dict[int, ShelterKind | None] = {
        place: winter_shelter(variety, lookups.shelters[place]) for place in {*kept, *claiming}
    }
    held = {
        place: holding(variety, place, kind, kept.get(place, 0)) for place, kind in kinds.items()
    }
    lost = round(variety_lost(held[place] for place in kept) * FINE)
    supply = lookups.offered[variety.id]
    gains = {place: _gains(held[place], supply) for place in sorted(claiming)}
    return Loss(lost, gains, lookups.standing[variety.id], _enough(lost, gains, supply))


def _enough(lost: int, gains: Mapping[int, tuple[int, ...]], supply: int) -> int:
    """Give how many plants, where they gain most, take the chance to `SAFE`; all that are offered if none do."""
    every = sorted((gain for those in gains.values() for gain in those), reverse=True)
    total = 0
    for number, one in enumerate(every[:supply]):
        if lost * exp_table(total) <= SAFE * ONE:
            return number
        total += one
    return min(supply, len(every))


def _standing(case: ShareOutCase) -> defaultdict[int, dict[int, int]]:
    """Count what stands already, by variety and place."""
    varieties = {one.id: one.variety_id for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    counts: defaultdict[int, dict[int, int]] = defaultdict(dict)
    for one in case.standing:
        here = counts[varieties[one.spare_id]]
        here[places[one.claim_id]] = here.get(places[one.claim_id], 0) + one.count
    return counts


def _gains(held: Holding, supply: int) -> tuple[int, ...]:
    """Give the gain of each further plant at a place, never rising; they end at the first gain of zero."""
    gains: list[int] = []
    before = place_loses(held) if held.plants else Fraction(1)
    for more in range(1, min(supply, MOST_STEPS) + 1):
        after = place_loses(held, more)
        step = gain(before, after)
        if gains:
            step = min(step, gains[-1])
        if step <= 0:
            break
        gains.append(step)
        before = after
    return tuple(gains)
