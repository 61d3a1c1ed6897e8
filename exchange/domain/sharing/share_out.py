"""Work out a share-out: rules in order, each on the optimal face of the one before, and everything re-checked."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from exchange.domain.optimise.programme import Stopped, Watch, never_stop
from exchange.domain.optimise.solve import solver_version
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.forced import before
from exchange.domain.sharing.instance import FORM, case_values, fingerprinted
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.outcome import RuleProof, ShareOut, Status
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.parcels import choose_parcels
from exchange.domain.sharing.proof import Proof
from exchange.domain.sharing.quantities import check_quantities
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.reasons import reasons
from exchange.domain.sharing.rules import Infeasible, check_feasible, could_still_go, values
from exchange.domain.sharing.stages import Progress, four_rules, start

__all__ = [
    "Disagreement",
    "RuleProof",
    "ShareOut",
    "Status",
    "Stopped",
    "never_stop",
    "work_out",
]


class Disagreement(RuntimeError):
    """The solver's answer does not stand up to plain arithmetic; it is never a result."""


@dataclass(frozen=True, slots=True)
class SolvedPass:
    """What the solver found in one pass, checked by plain arithmetic.

    Attributes
    ----------
    allocations : what stood before included
    decided : by claim index, the rule that left it no freedom
    """

    allocations: tuple[Allocation, ...]
    values: tuple[int, ...]
    proofs: tuple[Proof, ...]
    decided: Mapping[int, Rule]
    beginning: Progress


@dataclass(frozen=True, slots=True)
class SolvedShareOut:
    """What the solver found for a case, before reasons are given.

    Attributes
    ----------
    passes : the first, and where plants were left that somebody who asked could take, the second
    """

    passes: tuple[SolvedPass, ...]

    @property
    def allocations(self) -> tuple[Allocation, ...]:
        """Give what is given in the end."""
        return self.passes[-1].allocations


def work_out(case: ShareOutCase, watch: Watch = never_stop) -> ShareOut:
    """Work out who receives what.

    Parameters
    ----------
    watch : called with the stage's name, value and bound; returns True to stop

    Raises
    ------
    Stopped
        when `watch` asks to stop; nothing was decided
    WrongQuantity, PinRefused
        when the case cannot be worked out, in the organiser's words
    Disagreement
        when plain arithmetic does not agree with the solver
    """
    found = find(case, watch)
    first = found.passes[0]
    return ShareOut(
        allocations=found.allocations,
        rules=tuple(one for rules in _verdicts(found) for one in rules),
        reasons=reasons(
            case,
            first.beginning.pairs,
            found.allocations,
            first.decided,
            [before(one.beginning, one.allocations) for one in found.passes],
        ),
        working=_working(case, found),
    )


def _verdicts(found: SolvedShareOut) -> list[list[RuleProof]]:
    """Say how sure each rule's value is, pass by pass."""
    return [
        [
            replace(_verdict(number, value, proof), beyond=beyond > 0)
            for number, (value, proof) in enumerate(
                zip(one.values, one.proofs, strict=True), start=1
            )
        ]
        for beyond, one in enumerate(found.passes)
    ]


def find(case: ShareOutCase, watch: Watch) -> SolvedShareOut:
    """Find the allocations of a case and check them by plain arithmetic.

    Raises
    ------
    Stopped, WrongQuantity, PinRefused, Disagreement
        as `work_out`
    """
    check_quantities(case)
    first = _solve(case, watch)
    if could_still_go(case, first.allocations) is None:
        return SolvedShareOut((first,))
    again = case.second_pass(first.allocations, first.beginning.measure.contested)
    return SolvedShareOut((first, _solve(again, watch)))


def _solve(case: ShareOutCase, watch: Watch) -> SolvedPass:
    """Solve one pass."""
    pairs = pair_up(case)
    what = measure(case, pairs)
    beginning = start(case, pairs, what, watch)
    path = four_rules(beginning)
    sourced = choose_parcels(case, path)
    proofs = (*path.proofs, *sourced.proofs)
    allocations = with_standing(case, sourced.counts)
    try:
        check_feasible(case, allocations, what)
    except Infeasible as fault:
        raise Disagreement(str(fault)) from fault
    counted = values(case, allocations, what)
    for number, (value, proof) in enumerate(zip(counted, proofs, strict=True), start=1):
        if proof.value is not None and proof.value != value:
            raise Disagreement(f"rule {number}: the solver says {proof.value}, arithmetic {value}")
    return SolvedPass(allocations, counted, proofs, path.settled, beginning)


def with_standing(
    case: ShareOutCase, counts: Mapping[tuple[int, int], int]
) -> tuple[Allocation, ...]:
    """Add what stood already to what was worked out."""
    total = dict(counts)
    for one in case.standing:
        key = (one.spare_id, one.claim_id)
        total[key] = total.get(key, 0) + one.count
    return tuple(Allocation(*key, count) for key, count in sorted(total.items()) if count)


def _verdict(number: int, value: int, proof: Proof) -> RuleProof:
    """Say how sure a rule's value is."""
    if proof.value is None:
        return RuleProof(number, None, None, Status.SKIPPED)
    if proof.bound == value:
        status = Status.PROVEN if proof.by_duals else Status.SOLVER_SAYS
        return RuleProof(number, value, value, status)
    return RuleProof(number, value, proof.bound, Status.WITHIN)


def _working(case: ShareOutCase, found: SolvedShareOut) -> dict[str, Any]:
    """Put everything the checker needs into plain values, signed by its own fingerprint."""
    passes = [
        {
            "allocations": [[one.spare_id, one.claim_id, one.count] for one in solved.allocations],
            "rules": [
                {
                    "rule": verdict.number,
                    "name": verdict.name,
                    "value": verdict.value,
                    "bound": verdict.bound,
                    "status": verdict.words,
                    "tree": proof.tree,
                }
                for verdict, proof in zip(verdicts, solved.proofs, strict=True)
            ],
        }
        for verdicts, solved in zip(_verdicts(found), found.passes, strict=True)
    ]
    return fingerprinted(
        {
            "kind": "working of a share-out",
            "form": FORM,
            "solver": solver_version(),
            "case": case_values(case),
            **passes[0],
            "second": passes[1] if len(passes) > 1 else None,
        }
    )
