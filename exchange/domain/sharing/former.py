"""What workings of the form before this one counted, so that they can still be checked by their own rules.

Rule 1 was a curve for each must-not-be-lost variety: every further plant at a place multiplied the chance of losing it by
q(n + 1) / q(n), its gain was the negative logarithm in thousandths, and after gains L the chance had fallen by
Q (1 - exp(-L / 1000)). Straight lines above the curves made the bound. Rule 3 began a step earlier or later by sign.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from exchange.domain.growing.losing import Holding, holding, place_loses, winter_shelter
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.case import ShareOutCase, SharingTerms
from exchange.domain.sharing.dual_check import LeafBound, Ledger, WorkingFault, leaf_bound, whole
from exchange.domain.sharing.homes import Rows, VarietyLookups

FORMER = 3
"""The form whose workings are checked here."""

EXACT = Context(prec=40, rounding=ROUND_HALF_EVEN)
ONE = 10**15
FINE = 10**12
TOLD = 10**6
SAFE = FINE // 1000
MOST_STEPS = 30
SLOPE_PARTS = 100
NOISE = 1000

Row = tuple[list[tuple[int, int]], int]


@dataclass(frozen=True, slots=True)
class FormerLoss:
    """Rule 1's view of one variety.

    Attributes
    ----------
    lost : chance of losing it as things stand [1e-12]
    gains : by place, the gain of each further plant, never rising [thousandths of a natural logarithm]
    standing : by place, plants it receives already [plants]
    enough : how many plants count, those that gain most [plants]
    """

    lost: int
    gains: Mapping[int, tuple[int, ...]]
    standing: Mapping[int, int]
    enough: int

    def value(self, received: Mapping[int, int]) -> int:
        """Give the drop when places receive so many plants, standing ones included [1e-12]."""
        return self.drop(self.total(received))

    def total(self, received: Mapping[int, int]) -> int:
        """Add up the gains that count."""
        each = (self.gains.get(place, ())[:count] for place, count in received.items())
        return sum(sorted((gain for gains in each for gain in gains), reverse=True)[: self.enough])

    def drop(self, total: int) -> int:
        """Give the drop after gains of this total [1e-12]."""
        return self.lost * (ONE - _exp(total)) // ONE

    def points(self) -> list[tuple[int, int]]:
        """Give every total of gains that could come about (and some more), rising, and its drop."""
        every = sorted((gain for gains in self.gains.values() for gain in gains), reverse=True)
        top = sum(every[: self.enough])
        mask, within = 1, (1 << (top + 1)) - 1
        for gains in self.gains.values():
            before, height = mask, 0
            for gain in gains[: self.enough]:
                height += gain
                mask |= before << height
        mask &= within
        return [(total, self.drop(total)) for total in range(top + 1) if mask >> total & 1]

    def add_columns(self, rows: Rows, places: Mapping[int, Sequence[int]]) -> list[tuple[int, int]]:
        """Add the steps of the curve, with their gains, and the rows that hold them."""
        found: list[tuple[int, int]] = []
        for place in {**places, **self.standing}:
            those = places.get(place, ())
            stands = self.standing.get(place, 0)
            most = sum(rows.upper[one] for one in those)
            gains = self.gains.get(place, ())[: stands + most][: self.enough]
            steps = rows.steps(len(gains))
            found += zip(steps, gains, strict=True)
            rows.row([*((one, 1) for one in steps), *((one, -1) for one in those)], stands)
        rows.row([(column, 1) for column, _ in found], self.enough)
        return found


@lru_cache(maxsize=200_000)
def _exp(total: int) -> int:
    """Give exp(-total / 1000), rounded half to even, in parts of `ONE`."""
    value = EXACT.exp(EXACT.divide(Decimal(-total), Decimal(1000)))
    return int(EXACT.multiply(value, Decimal(ONE)).to_integral_value(ROUND_HALF_EVEN))


@lru_cache(maxsize=20_000)
def _gain(before: Fraction, after: Fraction) -> int:
    """Give ln(before / after) in thousandths, rounded half to even."""
    ratio = EXACT.divide(
        Decimal(before.numerator * after.denominator), Decimal(before.denominator * after.numerator)
    )
    return int((EXACT.ln(ratio) * 1000).to_integral_value(ROUND_HALF_EVEN))


def former_losses(case: ShareOutCase) -> dict[int, FormerLoss]:
    """Give rule 1's view of every variety it looked at."""
    lookups = VarietyLookups(case)
    return {one.id: _loss(lookups, one) for one in lookups.precious()}


def former_shift(terms: SharingTerms, given: int, received: int) -> int:
    """Give a household's shift in its favour, by sign [steps]."""
    if given > received or (given == 0 and received == 0):
        return terms.shift
    return -terms.shift if received > given else 0


def _loss(lookups: VarietyLookups, variety: Variety) -> FormerLoss:
    """Work out one variety's gains at every place that claims it."""
    kept, supply = lookups.kept[variety.id], lookups.offered[variety.id]
    lost = round(lookups.lost(variety) * FINE)
    gains = {}
    for place in sorted(lookups.claiming[variety.id]):
        kind = winter_shelter(variety, lookups.shelters[place])
        held = holding(variety, place, kind, kept.get(place, 0))
        gains[place] = _gains(held, supply)
    every = sorted((gain for those in gains.values() for gain in those), reverse=True)
    enough, total = min(supply, len(every)), 0
    for number, one in enumerate(every[:supply]):
        if lost * _exp(total) <= SAFE * ONE:
            enough = number
            break
        total += one
    return FormerLoss(lost, gains, lookups.standing[variety.id], enough)


def _gains(held: Holding, supply: int) -> tuple[int, ...]:
    """Give the gain of each further plant at a place; they end at the first gain of zero."""
    gains: list[int] = []
    before = place_loses(held) if held.plants else Fraction(1)
    for more in range(1, min(supply, MOST_STEPS) + 1):
        after = place_loses(held, more)
        step = min([_gain(before, after), *gains[-1:]])
        if step <= 0:
            break
        gains.append(step)
        before = after
    return tuple(gains)


class LossCurves:
    """The curve of every variety, point by point, and what straight lines above them prove."""

    def __init__(
        self,
        steps: Mapping[int, tuple[tuple[int, int], ...]],
        losses: Mapping[int, FormerLoss],
    ) -> None:
        self.steps, self.losses = steps, losses
        self.points = {variety: losses[variety].points() for variety in steps}
        self.apart = sum(
            loss.value(loss.standing) for one, loss in losses.items() if one not in steps
        )

    def leaf(self, ledger: Ledger, leaf: Mapping[str, Any]) -> LeafBound:
        """Work out what a leaf proves: its lines lie above the curves by so much at most.

        Raises
        ------
        WorkingFault
            when there is not one slope for each variety, or a dual is not allowed
        """
        slopes = {variety: whole(slope, "a slope") for variety, slope in leaf["slopes"]}
        if set(slopes) != set(self.steps) or len(leaf["slopes"]) != len(slopes):
            raise WorkingFault("rule 1 does not have one slope a variety")
        if leaf["scale"] != 1:
            raise WorkingFault("rule 1 has a scale")
        cost: dict[int, int] = {}
        above = 0
        for variety, steps in self.steps.items():
            above += max(self._over(variety, slopes[variety]))
            cost.update({column: slopes[variety] * weight for column, weight in steps})
        proof = leaf_bound(ledger, leaf, cost)
        return LeafBound(above + proof.total, SLOPE_PARTS, proof.reduced, proof.duals)

    def between(self, slopes: Mapping[int, int], gap: int, region: Ledger) -> list[Row]:
        """Give rows that hold each count between the points where its line touches its curve, if it could leave."""
        rows: list[Row] = []
        for variety, steps in self.steps.items():
            over = self._over(variety, slopes[variety])
            pairs = zip(self.points[variety], over, strict=True)
            near = [count for (count, _), one in pairs if one >= max(over) - gap]
            if sum(weight * region.lower[column] for column, weight in steps) < near[0]:
                rows.append(([(column, -weight) for column, weight in steps], -near[0]))
            if sum(weight * region.upper[column] for column, weight in steps) > near[-1]:
                rows.append((list(steps), near[-1]))
        return rows

    def reached(self, received: Mapping[int, Mapping[int, int]]) -> Iterable[Row]:
        """Give rows that hold each variety at what its places receive."""
        for variety, steps in self.steps.items():
            count = self.losses[variety].total(received.get(variety, {}))
            yield [(column, -weight) for column, weight in steps], -count

    def _over(self, variety: int, slope: int) -> list[int]:
        """Give by how much a curve exceeds its line, point by point."""
        return [drop * SLOPE_PARTS - slope * count for count, drop in self.points[variety]]
