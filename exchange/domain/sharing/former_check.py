"""A working of the form before this one under check, by its own rules: one pass, and a region for each leaf that could be best."""

from collections.abc import Mapping, Sequence
from typing import Any

from exchange.domain.sharing.dual_check import Ledger, WorkingFault, check_tree, leaf_bound
from exchange.domain.sharing.former import (
    NOISE,
    SLOPE_PARTS,
    TOLD,
    FormerLoss,
    LossCurves,
    former_losses,
    former_shift,
)
from exchange.domain.sharing.measure import Counting
from exchange.domain.sharing.pass_check import PassChecker
from exchange.domain.sharing.rules import precious_value, received_by_place
from exchange.domain.sharing.sourcing import Sourcing

Leaf = Mapping[str, Any]


class FormerChecker(PassChecker):
    """The only pass of a former working.

    Attributes
    ----------
    regions : where the best answers of rules 1 to 4 lie so far
    apart : the same for rules 5 and 6, spare by spare
    fewest : what the duals prove of the fewest parcels, region by region
    """

    how = Counting(former_losses, former_shift, TOLD, tight=False)

    def _begin(self) -> None:
        """Begin with one region."""
        self.regions = [self.ledger]
        self.apart: list[tuple[Ledger, Sourcing]] = []
        self.fewest: list[int | None] = []

    def _proven(self, number: int, line: Mapping[str, Any]) -> int | None:
        """Give the bound that the duals of a rule prove; None where none are kept."""
        trees = line["trees"]
        if number == 1:
            return self._first(line)
        if number <= 4:
            # Held variety by variety, rule 1 may hide better answers of the later rules.
            self.sure = self.sure and self.lines[0]["hold"] != "variety"
            return self._in_regions(number, trees)
        if all(tree is None for tree in trees) and len(trees) == len(self.regions):
            return None
        return self._in_parcels(number, trees)

    def _first(self, line: Mapping[str, Any]) -> int:
        """Work out what the leaves prove for rule 1, in millionths."""
        if not self.layout.steps:
            if line["trees"]:
                raise WorkingFault("rule 1 has duals but nothing to decide")
            return self.values[0]
        (tree,) = line["trees"]
        check_tree([leaf["path"] for leaf in tree])
        losses = {
            one: loss for one, loss in self.measure.precious.items() if isinstance(loss, FormerLoss)
        }
        curves, before = LossCurves(self.layout.steps, losses), self.ledger
        proofs = [curves.leaf(before, leaf) for leaf in tree]
        value = precious_value(self.case, self.allocations, self.measure) - curves.apart
        best = max(proof.total // SLOPE_PARTS for proof in proofs)
        self.regions = []
        if line["hold"] == "variety":
            for entries, limit in curves.reached(received_by_place(self.case, self.allocations)):
                before.hold(entries, limit)
            self.regions = [before]
        for leaf, proof in zip(tree, proofs, strict=True):
            if line["hold"] == "touch" and proof.total // SLOPE_PARTS >= value - NOISE:
                gap = max(0, proof.total - (value - NOISE) * SLOPE_PARTS)
                region = before.after(leaf["path"], proof, gap)
                for entries, limit in curves.between(dict(leaf["slopes"]), gap, region):
                    region.hold(entries, limit)
                self.regions.append(region)
        if not self.regions:
            raise WorkingFault("rule 1 leaves no answer, or does not say how it is held")
        return self.values[0] if best <= value + NOISE else (best + curves.apart) // TOLD

    def _in_regions(self, number: int, trees: Sequence[Sequence[Leaf]]) -> int:
        """Work out what the trees prove for one of rules 2 to 4, and narrow the regions."""
        aim, constant = self.layout.model.aims[number], self.constants[number - 1]
        reached = best = self.values[number - 1] - constant
        regions = []
        if len(trees) != len(self.regions):
            raise WorkingFault(f"rule {number} does not have a tree for each region")
        for region, tree in zip(self.regions, trees, strict=True):
            check_tree([leaf["path"] for leaf in tree])
            for leaf in tree:
                proof = leaf_bound(region, leaf, aim)
                best = max(best, proof.total // proof.scale)
                if proof.total // proof.scale >= reached:
                    gap = proof.total - reached * proof.scale
                    regions.append(region.after(leaf["path"], proof, gap))
        self.regions = regions
        return best + constant

    def _in_parcels(self, number: int, trees: Sequence[Sequence[Leaf] | None]) -> int | None:
        """Work out what the trees prove for rule 5 or 6; None when they prove nothing."""
        if number == 5:
            self.apart = [self._apart(region) for region in self.regions]
            self.ledger, self.sourcing = max(self.apart, key=lambda one: len(one[0].upper))
        if len(trees) != len(self.apart):
            raise WorkingFault(f"rule {number} does not have a tree for each region")
        every = list(zip(self.apart, trees, strict=True))
        if number == 6:
            for (ledger, sourcing), tree in every:
                if tree is not None:
                    self._hold_parcels(ledger, sourcing)
        bounds = [
            None if tree is None else self._bound_of_tree(number, ledger, sourcing, tree)
            for (ledger, sourcing), tree in every
        ]
        before = self.fewest or [None] * len(bounds)
        counted = [
            bound
            for bound, least in zip(bounds, before, strict=True)
            if number == 5 or least is None or least <= self.values[4]
        ]
        self.fewest = bounds
        known = [bound for bound in counted if bound is not None]
        return min([self.values[number - 1], *known]) if len(known) == len(counted) else None
