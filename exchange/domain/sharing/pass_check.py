"""One pass of a working under check: its allocations, the value of each rule, and what its dual numbers prove.

The rows of the share-out are built from the case alone, and everything is worked out in whole numbers without a solver.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.draw import shown_at_opening
from exchange.domain.sharing.draw_check import higher_draw
from exchange.domain.sharing.dual_check import Ledger, WorkingFault, check_tree, leaf_bound, whole
from exchange.domain.sharing.measure import NOW, Measure, measure
from exchange.domain.sharing.model import Layout, build
from exchange.domain.sharing.outcome import NAMES, Status, within_percent
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.rules import check_feasible, values
from exchange.domain.sharing.sourcing import Sourcing, take_apart

PROVEN = Status.PROVEN.value

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
    beyond : whether of the second pass, in which the most of a contested variety holds no longer
    """

    rule: int
    name: str
    words: str
    beyond: bool = False

    @property
    def wrong(self) -> bool:
        """Say whether something is wrong."""
        return self.words.startswith("WRONG")


class PassChecker:
    """One pass under check.

    Attributes
    ----------
    ledger : where the best answers of the rules so far lie
    sourcing : the model of rules 5 and 6, once they are reached with duals
    sure : whether what is proven so far holds for all answers
    """

    how = NOW

    def __init__(self, case: ShareOutCase, lines: Mapping[str, Any]) -> None:
        self.case, self.lines = case, lines["rules"]
        self.allocations = tuple(
            Allocation(whole(spare, "a spare"), whole(claim, "a claim"), whole(count, "a count"))
            for spare, claim, count in lines["allocations"]
        )
        self.pairs: Pairs = pair_up(self.case)
        self.measure: Measure = measure(self.case, self.pairs, self.how)
        check_feasible(self.case, self.allocations, self.measure)
        self.values = values(self.case, self.allocations, self.measure)
        self.constants = values(self.case, self.case.standing, self.measure)
        self.layout: Layout = build(self.case, self.pairs, self.measure)
        model = self.layout.model
        self.plain = len(model.limits)
        free = [False] * self.plain
        none = [0] * len(model.upper)
        self.ledger = Ledger(model.listed(), model.limits, none, list(model.upper), free)
        self.sourcing: Sourcing | None = None
        self.sure = True
        self._begin()

    def _begin(self) -> None:
        """Make what another form needs besides."""

    def verdicts(self) -> tuple[CheckResult, ...]:
        """Give the verdict on each rule, then on the draw."""
        if len(self.lines) != len(NAMES):
            raise WorkingFault("there must be six rules")
        found = []
        for number, line in enumerate(self.lines, start=1):
            try:
                words = self._rule(number, line)
            except WorkingFault as fault:
                words = f"WRONG: {fault}"
                self.sure = False
            found.append(CheckResult(number, NAMES[number - 1], words))
        return (*found, CheckResult(7, "draw", self._draw()))

    def _draw(self) -> str:
        """Check that no plant could go to a claim that drew higher, all rules equal."""
        # Where no trees are kept, ties were drawn with the parcels held.
        if self.sourcing is None or max(self.pairs.count, len(self.ledger.upper)) > LARGEST_DRAWN:
            return "not looked at in so large a circle"
        found = higher_draw(self.case, self.allocations, self.measure)
        if found is None:
            shown = shown_at_opening(self.case.draw_number)
            return f"kept in every plain tie; the hash at the opening was {shown}"
        spare, has, asks = found
        return (
            f"WRONG: claim {asks} drew higher than claim {has}, which has a plant of spare {spare}"
        )

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
        bound = self._proven(number, line)
        return self._words(number, line["status"], claimed, bound)

    def _proven(self, number: int, line: Mapping[str, Any]) -> int | None:
        """Give the bound that the duals of a rule prove; None where none are kept."""
        tree = line["tree"]
        return self._next(number, tree) if number <= 4 else self._parcels(number, tree)

    def _skipped(self, line: Mapping[str, Any]) -> str:
        """Check a rule that was skipped."""
        if (
            line["value"] is not None
            or line["bound"] is not None
            or line.get("tree")
            or line.get("trees")
        ):
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

    def _next(self, number: int, tree: list[Mapping[str, Any]]) -> int:
        """Work out what the leaves prove for one of rules 1 to 4, and keep its best answers."""
        aim, constant = self.layout.model.aims[number], self.constants[number - 1]
        reached = self.values[number - 1] - constant
        check_tree([leaf["path"] for leaf in tree])
        proofs = [leaf_bound(self.ledger, leaf, aim) for leaf in tree]
        best = max(proof.total // proof.scale for proof in proofs)
        if len(proofs) == 1 and best == reached:
            self.ledger.narrow(proofs[0], proofs[0].total - reached * proofs[0].scale)
        else:
            self.ledger.hold([(one, -gain) for one, gain in aim.items()], -reached)
        return max(best, reached) + constant

    def _parcels(self, number: int, tree: list[Mapping[str, Any]] | None) -> int | None:
        """Work out what the leaves prove for rule 5 or 6; None when there are none."""
        if tree is None:
            return None
        if number == 5:
            self.ledger, self.sourcing = self._apart(self.ledger)
        if self.sourcing is None:
            raise WorkingFault(f"rule {number} has duals, but rule 5 has none")
        if number == 6:
            self._hold_parcels(self.ledger, self.sourcing)
        bound = self._bound_of_tree(number, self.ledger, self.sourcing, tree)
        return min(self.values[number - 1], bound)

    def _apart(self, before: Ledger) -> tuple[Ledger, Sourcing]:
        """Go over to the model of rules 5 and 6."""
        more = list(zip(before.rows, before.limits, strict=True))[self.plain :]
        sourcing = take_apart(self.case, self.pairs, self.layout, before.face(), more)
        model, limits = sourcing.model, sourcing.limits
        lower, upper, equal = list(limits.lower), list(limits.upper), list(limits.equal)
        return Ledger(model.listed(), model.limits, lower, upper, equal), sourcing

    def _hold_parcels(self, ledger: Ledger, sourcing: Sourcing) -> None:
        """Hold the parcels that rule 5 reached where rule 6 goes on."""
        aim = sourcing.model.aims[5]
        limit = self.values[4] - sourcing.elsewhere[0]
        ledger.hold([(one, -weight) for one, weight in aim.items()], limit)

    def _bound_of_tree(
        self, number: int, ledger: Ledger, sourcing: Sourcing, tree: Sequence[Mapping[str, Any]]
    ) -> int:
        """Work out what one tree proves: no answer comes to less."""
        check_tree([leaf["path"] for leaf in tree])
        proofs = [leaf_bound(ledger, leaf, sourcing.model.aims[number]) for leaf in tree]
        best = max(proof.total // proof.scale for proof in proofs)
        return sourcing.elsewhere[number - 5] - best
