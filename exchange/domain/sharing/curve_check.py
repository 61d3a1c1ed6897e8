"""What slopes and dual numbers prove of rule 1, whose value is a sum of curves, in whole numbers and without any solver."""

from collections.abc import Mapping
from typing import Any

from exchange.domain.sharing.dual_check import LeafBound, Ledger, WorkingFault, leaf_bound, whole
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.model import Layout

SLOPE_PARTS = 100
"""Slopes of rule 1 are whole parts of this."""

NOISE = 1000
"""Values of rule 1 closer than this count as equal [1e-12 of a variety]."""

Row = tuple[list[tuple[int, int]], int]


class LossCurves:
    """The curve of every must-not-be-lost variety, point by point."""

    def __init__(self, layout: Layout, measure: Measure) -> None:
        self.steps = layout.steps
        self.losses = measure.losses
        self.points = {}
        for variety in layout.steps:
            counts, drops = measure.losses[variety].reachable()
            self.points[variety] = list(zip(counts.tolist(), drops.tolist(), strict=True))

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
            top = max(over)
            near = [
                count
                for (count, _), one in zip(self.points[variety], over, strict=True)
                if one >= top - gap
            ]
            if sum(weight * region.lower[column] for column, weight in steps) < near[0]:
                rows.append(([(column, -weight) for column, weight in steps], -near[0]))
            if sum(weight * region.upper[column] for column, weight in steps) > near[-1]:
                rows.append((list(steps), near[-1]))
        return rows

    def reached(self, received: Mapping[int, Mapping[int, int]]) -> list[Row]:
        """Give rows that hold each variety at what its places receive."""
        rows: list[Row] = []
        for variety, steps in self.steps.items():
            count = self.losses[variety].total(received.get(variety, {}))
            rows.append(([(column, -weight) for column, weight in steps], -count))
        return rows

    def _over(self, variety: int, slope: int) -> list[int]:
        """Give by how much a curve exceeds its line, point by point."""
        return [drop * SLOPE_PARTS - slope * count for count, drop in self.points[variety]]
