"""The checker of workings: a second program that knows no solver.

It reads a working as plain values, builds the rows of the share-out from the case alone, and recomputes feasibility,
the value of every rule and the bounds its dual numbers prove, all in whole numbers.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.case_check import check_ids
from exchange.domain.sharing.curve_check import NOISE, SLOPE_PARTS, LossCurves
from exchange.domain.sharing.draw import shown_at_opening
from exchange.domain.sharing.draw_check import higher_draw
from exchange.domain.sharing.dual_check import Ledger, WorkingFault, check_tree, leaf_bound, whole
from exchange.domain.sharing.instance import FINGERPRINT, FORM, case_from, case_values, fingerprint
from exchange.domain.sharing.losses import TOLD, settled_drop
from exchange.domain.sharing.measure import Measure, measure
from exchange.domain.sharing.model import Layout, build
from exchange.domain.sharing.opting_out import check_not_opted_out
from exchange.domain.sharing.outcome import NAMES, Status, within_percent
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.rules import Infeasible, check_feasible, fine_drop, values
from exchange.domain.sharing.sourcing import Sourcing, take_apart

PROVEN = Status.PROVEN.value
OTHER_FORM = (
    f"not checked: this program reads form {FORM} of workings; use the one it was made with"
)
LARGEST_DRAWN = 3000
"""Up to this many spares to a claim and parcels, ties are drawn over all share-outs that are equal under every rule."""


@dataclass(frozen=True, slots=True)
class CheckResult:
    """What the checker found of one subject.

    Attributes
    ----------
    rule : 1 to 6; 0 for the file and its allocations, 7 for the draw
    words : "proven", "within x %", "as the solver says", "skipped", or "WRONG: " and the first line that fails;
        of the file also "not checked", when another version of the program wrote it;
        of the draw, "kept in every plain tie", or "not looked at"
    """

    rule: int
    name: str
    words: str

    @property
    def wrong(self) -> bool:
        """Say whether something is wrong."""
        return self.words.startswith("WRONG")


def check(working: Mapping[str, Any]) -> tuple[CheckResult, ...]:
    """Check a working: the file and its allocations first, then a verdict for each rule, then the draw.

    Never raises for what a working may hold; whatever does not hold is a verdict.
    """
    try:
        if _of_another_form(working):
            return (CheckResult(0, "file and allocations", OTHER_FORM),)
        check_ids(working)
        check_not_opted_out(working)
        return _Checker(working).verdicts()
    except (WorkingFault, Infeasible, KeyError, TypeError, ValueError, IndexError) as fault:
        told = (
            f"WRONG: {fault}"
            if isinstance(fault, (WorkingFault, Infeasible))
            else _unreadable(fault)
        )
        return (CheckResult(0, "file and allocations", told),)


def _of_another_form(working: Mapping[str, Any]) -> bool:
    """Say whether a working, whole as it was written, is from a program that counts or writes otherwise."""
    return working.get("form") != FORM and working[FINGERPRINT] == fingerprint(working)


def in_order(verdicts: tuple[CheckResult, ...]) -> bool:
    """Say whether nothing is wrong and rules 1 to 4 are proven."""
    proven = {one.rule for one in verdicts if one.words == PROVEN}
    return not any(one.wrong for one in verdicts) and {1, 2, 3, 4} <= proven


def _unreadable(fault: Exception) -> str:
    """Give the verdict on a file that cannot be read as a working."""
    return f"WRONG: the file cannot be read as a working ({type(fault).__name__}: {fault})"


class _Checker:
    """One working under check.

    Attributes
    ----------
    regions : where the best answers of rules 1 to 4 lie so far
    apart : the same for rules 5 and 6, spare by spare; None once a region is out of the running
    sure : whether what is proven so far holds for all answers
    """

    def __init__(self, working: Mapping[str, Any]) -> None:
        self.working = working
        self.case: ShareOutCase = case_from(working["case"])
        self.allocations = tuple(
            Allocation(whole(spare, "a spare"), whole(claim, "a claim"), whole(count, "a count"))
            for spare, claim, count in working["allocations"]
        )
        self.pairs: Pairs = pair_up(self.case)
        self.measure: Measure = measure(self.case, self.pairs)
        check_feasible(self.case, self.allocations, self.measure)
        self.values = values(self.case, self.allocations, self.measure)
        self.constants = values(self.case, self.case.standing, self.measure)
        self.layout: Layout = build(self.case, self.pairs, self.measure)
        model = self.layout.model
        self.plain = len(model.limits)
        free = [False] * self.plain
        none = [0] * len(model.upper)
        self.regions = [Ledger(model.listed(), model.limits, none, list(model.upper), free)]
        self.apart: list[tuple[Ledger, Sourcing]] = []
        self.bounds: list[int | None] = []
        self.sure = True

    def verdicts(self) -> tuple[CheckResult, ...]:
        """Give the verdict on the file, then on each rule."""
        found = [CheckResult(0, "file and allocations", self._file())]
        if len(self.working["rules"]) != len(NAMES):
            raise WorkingFault("there must be six rules")
        for number, line in enumerate(self.working["rules"], start=1):
            try:
                words = self._rule(number, line)
            except WorkingFault as fault:
                words = f"WRONG: {fault}"
                self.sure = False
            found.append(CheckResult(number, NAMES[number - 1], words))
        return (*found, CheckResult(7, "draw", self._draw()))

    def _draw(self) -> str:
        """Check that no plant could go to a claim that drew higher, all rules equal."""
        sizes = [self.pairs.count, *(len(ledger.upper) for ledger, _ in self.apart)]
        # Where no trees are kept, ties were drawn with the parcels held.
        if not self.apart or max(sizes) > LARGEST_DRAWN:
            return "not looked at in so large a circle"
        found = higher_draw(self.case, self.allocations, self.measure)
        if found is None:
            shown = shown_at_opening(self.case.draw_number)
            return f"kept in every plain tie; the hash at the opening was {shown}"
        spare, has, asks = found
        return (
            f"WRONG: claim {asks} drew higher than claim {has}, which has a plant of spare {spare}"
        )

    def _file(self) -> str:
        """Check that the file is what was written."""
        if self.working[FINGERPRINT] != fingerprint(self.working):
            return "WRONG: the fingerprint does not fit the file, so something in it was changed"
        if case_values(self.case) != self.working["case"]:
            return "WRONG: the case is not written as a case is"
        return PROVEN

    def _rule(self, number: int, line: Mapping[str, Any]) -> str:
        """Check one rule."""
        if line["rule"] != number or line["name"] != NAMES[number - 1]:
            raise WorkingFault(f"rule {number} is not in its place")
        if number == 6 and self.case.postage is None:
            return self._skipped(line)
        value = whole(line["value"], f"the value of rule {number}")
        claimed = whole(line["bound"], f"the bound of rule {number}")
        if value != self.values[number - 1]:
            told = self.values[number - 1]
            raise WorkingFault(f"rule {number} says {value}, the allocations give {told}")
        bound: int | None
        if number == 1:
            bound = self._first(line)
        elif number <= 4:
            bound = self._next(number, line["trees"])
        else:
            bound = self._parcels(number, line["trees"])
        words = self._words(number, line["status"], claimed, bound)
        # Held variety by variety, rule 1 may hide better answers of the later rules.
        self.sure = self.sure and line["hold"] != "variety"
        return words

    def _skipped(self, line: Mapping[str, Any]) -> str:
        """Check a rule that was skipped."""
        if line["value"] is not None or line["bound"] is not None or line["trees"]:
            raise WorkingFault("rule 6 has values though no tariff was typed in")
        if line["status"] != Status.SKIPPED.value:
            raise WorkingFault("rule 6 is not marked as skipped")
        return Status.SKIPPED.value

    def _words(self, number: int, status: str, claimed: int, bound: int | None) -> str:
        """Compare what is claimed with what the duals prove; rules 5 and 6 are better when smaller."""
        sign = -1 if number >= 5 else 1
        value = self.values[number - 1]
        if sign * claimed < sign * value:
            raise WorkingFault(f"rule {number} claims a bound that its own value betters")
        if bound == value and self.sure:
            expected = PROVEN
        elif claimed == value:
            expected = Status.SOLVER_SAYS.value
        else:
            expected = f"within {within_percent(value, claimed)} %"
        if status == PROVEN and expected != PROVEN:
            raise WorkingFault(f"rule {number} is called proven, but the duals prove {bound} only")
        if status != expected:
            raise WorkingFault(f"rule {number} is called {status!r}, not {expected!r}")
        if expected == PROVEN and claimed != value:
            raise WorkingFault(f"rule {number} claims {claimed}, the duals prove {bound}")
        if expected == PROVEN or (bound is not None and sign * bound <= sign * claimed):
            return expected
        return Status.SOLVER_SAYS.value

    def _first(self, line: Mapping[str, Any]) -> int:
        """Work out what the leaves prove for rule 1, in millionths."""
        trees = line["trees"]
        if not self.layout.steps:
            if trees:
                raise WorkingFault("rule 1 has duals but nothing to decide")
            return self.values[0]
        (tree,) = trees
        check_tree([leaf["path"] for leaf in tree])
        before = self.regions[0]
        curves = LossCurves(self.layout, self.measure)
        proofs = [curves.leaf(before, leaf) for leaf in tree]
        apart = settled_drop(self.measure.losses, self.layout.steps)
        value = fine_drop(self.case, self.allocations, self.measure) - apart
        best = max(proof.total // SLOPE_PARTS for proof in proofs)
        self.regions = []
        if line["hold"] == "variety":
            for entries, limit in curves.reached(_received(self.case, self.allocations)):
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
        return self.values[0] if best <= value + NOISE else (best + apart) // TOLD

    def _next(self, number: int, trees: list[list[Mapping[str, Any]]]) -> int:
        """Work out what the trees prove for one of rules 2 to 4, and narrow the regions."""
        aim, constant = self.layout.model.aims[number], self.constants[number - 1]
        reached = self.values[number - 1] - constant
        best = reached
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

    def _parcels(self, number: int, trees: list[list[Mapping[str, Any]] | None]) -> int | None:
        """Work out what the trees prove for rule 5 or 6; None when they prove nothing."""
        if all(tree is None for tree in trees) and len(trees) == len(self.regions):
            # In a large circle no trees are kept, so there is no need to take its pools apart.
            return None
        if number == 5:
            self._take_apart()
        else:
            self._hold_parcels(trees)
        if len(trees) != len(self.apart):
            raise WorkingFault(f"rule {number} does not have a tree for each region")
        bounds = [
            None if tree is None else self._parcel_bound(number, one, tree)
            for one, tree in zip(self.apart, trees, strict=True)
        ]
        out_of_the_running = [
            number == 6 and before is not None and before > self.values[4]
            for before in (self.bounds or [None] * len(bounds))
        ]
        self.bounds = bounds
        counted = [bound for bound, out in zip(bounds, out_of_the_running, strict=True) if not out]
        known = [bound for bound in counted if bound is not None]
        if len(known) < len(counted):
            return None
        return min([self.values[number - 1], *known])

    def _parcel_bound(
        self, number: int, one: tuple[Ledger, Sourcing], tree: list[Mapping[str, Any]]
    ) -> int:
        """Work out what one tree proves: no answer of its region comes to less."""
        ledger, sourcing = one
        check_tree([leaf["path"] for leaf in tree])
        proofs = [leaf_bound(ledger, leaf, sourcing.model.aims[number]) for leaf in tree]
        best = max(proof.total // proof.scale for proof in proofs)
        return sourcing.elsewhere[number - 5] - best

    def _take_apart(self) -> None:
        """Go over to the models of rules 5 and 6."""
        for region in self.regions:
            more = list(zip(region.rows, region.limits, strict=True))[self.plain :]
            sourcing = take_apart(self.case, self.pairs, self.layout, region.face(), more)
            model, limits = sourcing.model, sourcing.limits
            ledger = Ledger(
                model.listed(),
                model.limits,
                list(limits.lower),
                list(limits.upper),
                list(limits.equal),
            )
            self.apart.append((ledger, sourcing))

    def _hold_parcels(self, trees: list[list[Mapping[str, Any]] | None]) -> None:
        """Hold the parcels that rule 5 reached where rule 6 goes on."""
        for (ledger, sourcing), tree in zip(self.apart, trees, strict=True):
            if tree is not None:
                aim = sourcing.model.aims[5]
                limit = self.values[4] - sourcing.elsewhere[0]
                ledger.hold([(one, -weight) for one, weight in aim.items()], limit)


def _received(case: ShareOutCase, allocations: tuple[Allocation, ...]) -> dict[int, dict[int, int]]:
    """Count the plants each place receives, by variety."""
    varieties = {one.id: one.variety_id for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    found: dict[int, dict[int, int]] = {}
    for one in allocations:
        by_place = found.setdefault(varieties[one.spare_id], {})
        by_place[places[one.claim_id]] = by_place.get(places[one.claim_id], 0) + one.count
    return found
