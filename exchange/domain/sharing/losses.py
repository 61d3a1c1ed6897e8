"""Rule 1 in whole numbers: by how much plants at new places lower the expected number of varieties lost.

With q the chance that a place loses what it holds (growing/losing.py), each further plant at a place multiplies the
chance that the variety is lost by q(n + 1) / q(n). Its gain is the negative logarithm of that factor, in thousandths,
and the drop of a variety held with chance Q after gains L is Q (1 - exp(-L / 1000)). It is reckoned in 10^-12 of a
variety, so finely that rounding never bends the curve, and told in millionths.
"""

from collections import defaultdict
from collections.abc import Mapping
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
from exchange.domain.sharing.case import Case

EXACT = Context(prec=40, rounding=ROUND_HALF_EVEN)
ONE = 10**15
"""exp(-L / 1000) is tabled in whole parts of this."""

FINE = 10**12
"""Drops are reckoned in whole parts of this."""

TOLD = 10**6
"""Drops are told in parts of FINE / TOLD, that is in millionths of a variety."""

MOST_STEPS = 30
"""Beyond so many plants at one place a further one gains nothing that counts [plants]."""


@dataclass(frozen=True, slots=True)
class Loss:
    """What rule 1 needs to know of one must-not-be-lost variety.

    Attributes
    ----------
    lost : chance of losing it as things stand [1e-12]
    gains : by place, the gain of each further plant, never rising [thousandths of a natural logarithm]
    standing : by place, plants it receives already [plants]
    supply : plants that are offered [plants]
    """

    lost: int
    gains: Mapping[int, tuple[int, ...]]
    standing: Mapping[int, int]
    supply: int

    def gains_at(self, place_id: int, most: int) -> tuple[int, ...]:
        """Give the gains of further plants at a place beyond those standing, at most so many."""
        already = self.standing.get(place_id, 0)
        return self.gains.get(place_id, ())[already : already + most]

    def total(self, received: Mapping[int, int]) -> int:
        """Add up the gains when places receive so many plants, standing ones included."""
        return sum(sum(self.gains.get(place, ())[:count]) for place, count in received.items())

    def drop(self, total: int) -> int:
        """Give the drop of the expected number lost after gains of this total [1e-12]."""
        return self.lost * (ONE - exp_table(total)) // ONE

    def reachable(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Give every total of gains that could come about (and some more), rising, and its drop."""
        free = [gains[self.standing.get(place, 0) :] for place, gains in self.gains.items()]
        every = sorted((gain for gains in free for gain in gains), reverse=True)
        top = sum(every[: self.supply])
        mask = np.zeros(top + 1, dtype=bool)
        mask[0] = True
        for gains in free:
            before, height = mask.copy(), 0
            for gain in gains:
                height += gain
                if height > top:
                    break
                mask[height:] |= before[: top + 1 - height]
        totals = np.flatnonzero(mask).astype(np.int64) + self.total(self.standing)
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


def losses(case: Case) -> dict[int, Loss]:
    """Give rule 1's view of every variety that must not be lost, is offered, and stands in too few places."""
    offered: defaultdict[int, int] = defaultdict(int)
    for spare in case.spares:
        offered[spare.variety_id] += spare.count
    kept = _kept(case)
    found = {}
    for variety in case.varieties:
        target = case.terms.target_places or variety.target_places
        if variety.must_not_be_lost and offered[variety.id] and len(kept[variety.id]) < target:
            found[variety.id] = _loss(case, variety.id, kept[variety.id], offered[variety.id])
    return found


def _kept(case: Case) -> defaultdict[int, dict[int, int]]:
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


def _loss(case: Case, variety_id: int, kept: Mapping[int, int], supply: int) -> Loss:
    """Work out one variety's gains at every place that claims it."""
    variety = next(one for one in case.varieties if one.id == variety_id)
    shelters: defaultdict[int, list[Shelter]] = defaultdict(list)
    for shelter in case.shelters:
        shelters[shelter.place_id].append(shelter)
    kinds: dict[int, ShelterKind | None] = {
        place: winter_shelter(shelters[place]) for place in {*kept, *_claiming(case, variety_id)}
    }
    held = {
        place: holding(variety, place, kind, kept.get(place, 0)) for place, kind in kinds.items()
    }
    lost = variety_lost(held[place] for place in kept)
    gains = {place: _gains(held[place], supply) for place in sorted(_claiming(case, variety_id))}
    return Loss(round(lost * FINE), gains, _standing(case, variety_id), supply)


def _claiming(case: Case, variety_id: int) -> set[int]:
    """Give the places that would take the variety."""
    return {
        claim.place_id
        for claim in case.claims
        if variety_id == claim.variety_id or variety_id in claim.alternatives
    }


def _standing(case: Case, variety_id: int) -> dict[int, int]:
    """Count what stands already of one variety, by place."""
    varieties = {one.id: one.variety_id for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    counts: defaultdict[int, int] = defaultdict(int)
    for one in case.standing:
        if varieties[one.spare_id] == variety_id:
            counts[places[one.claim_id]] += one.count
    return dict(counts)


def _gains(held: Holding, supply: int) -> tuple[int, ...]:
    """Give the gain of each further plant at a place, never rising; a gain of nothing ends them."""
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
