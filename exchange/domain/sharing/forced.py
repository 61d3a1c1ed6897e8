"""Force one more plant to a claim, and see which rule gives way first."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.domain.optimise.curves import NOISE
from exchange.domain.optimise.programme import SolverFailed
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.losses import TOLD
from exchange.domain.sharing.parcels import choose_parcels
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.rules import fine_drop, values
from exchange.domain.sharing.stages import (
    STAGES,
    Progress,
    first_rule,
    forced_start,
    losses_now,
    next_rule,
)


@dataclass(frozen=True, slots=True)
class Baseline:
    """The share-out as it was worked out, to compare with.

    Attributes
    ----------
    beginning : where its rules began
    fine : rule 1's drop at full precision [1e-12]
    values : of rules 1 to 6, as this program counts them
    """

    beginning: Progress
    fine: int
    values: Sequence[int]


@dataclass(frozen=True, slots=True)
class Forced:
    """What gives way.

    Attributes
    ----------
    rule : the first whose value falls, DRAW when none does
    falls_by : in the rule's own unit, 0 for DRAW
    """

    rule: Rule
    falls_by: int
    path: Progress


def before(beginning: Progress, allocations: Sequence[Allocation]) -> Baseline:
    """Put together a share-out to compare with."""
    case, what = beginning.case, beginning.measure
    return Baseline(beginning, fine_drop(case, allocations, what), values(case, allocations, what))


def force(was: Baseline, claim: int, plants: int, *, complete: bool = False) -> Forced | None:
    """Force a claim (by index) to so many plants; None when no share-out gives them, whatever the rules.

    Parameters
    ----------
    complete : solve all of rules 1 to 4, so that the path ends in a whole share-out, and not only up to the first fall

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    path = forced_start(was.beginning, claim, plants)
    if path is None:
        return None
    found: Forced | None = None
    try:
        first_rule(path)
        fell = was.fine - losses_now(path)
        if fell > NOISE:
            found = Forced(Rule.MUST_NOT_BE_LOST, fell // TOLD, path)
        for rule in STAGES:
            if found is not None and not complete:
                return found
            next_rule(path, rule)
            fell = was.values[rule - 1] - (path.proofs[-1].value or 0)
            if fell > 0 and found is None:
                found = Forced(Rule(rule), fell, path)
        return found or _parcels(was, path)
    except SolverFailed:
        return None


def _parcels(was: Baseline, path: Progress) -> Forced:
    """Compare parcels and postage."""
    proofs = choose_parcels(path.case, path, prove=False).proofs
    for rule, proof in zip((Rule.FEWEST_PARCELS, Rule.POSTAGE), proofs, strict=True):
        value = was.values[rule - 1]
        if proof.value is not None and proof.value > value:
            return Forced(rule, proof.value - value, path)
    return Forced(Rule.DRAW, 0, path)
