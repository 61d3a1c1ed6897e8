"""Force one more plant to a claim, and see which rule gives way first."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from exchange.domain.optimise.programme import SolverFailed
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.parcels import choose_parcels
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.rules import values
from exchange.domain.sharing.stages import STAGES, Progress, forced_start, next_rule


@dataclass(frozen=True, slots=True)
class Baseline:
    """One pass of the share-out as it was worked out, to compare with.

    Attributes
    ----------
    beginning : where its rules began
    values : of rules 1 to 6, as this program counts them
    given : by claim index [plants]
    """

    beginning: Progress
    allocations: Sequence[Allocation]
    values: Sequence[int]
    given: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Forced:
    """What gives way.

    Attributes
    ----------
    rule : the first whose value falls, DRAW when none does
    falls_by : in the rule's own unit, 0 for DRAW
    was : the pass in which it gives way
    """

    rule: Rule
    falls_by: int
    path: Progress
    was: Baseline


def before(beginning: Progress, allocations: Sequence[Allocation]) -> Baseline:
    """Put together a pass to compare with."""
    case, what = beginning.case, beginning.measure
    number = {one.id: index for index, one in enumerate(case.claims)}
    given: Counter[int] = Counter()
    for one in allocations:
        given[number[one.claim_id]] += one.count
    return Baseline(beginning, allocations, values(case, allocations, what), given)


def force(was: Sequence[Baseline], claim: int, *, complete: bool = False) -> Forced | None:
    """Force one plant more to a claim (by index), in the last pass that can give it.

    Returns
    -------
    what gives way; None when no share-out gives the plant, whatever the rules

    Parameters
    ----------
    complete : solve all of rules 1 to 4, so that the path ends in a whole share-out, and not only up to the first fall

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    tried = (_force(one, claim, complete) for one in reversed(was))
    return next((one for one in tried if one is not None), None)


def _force(was: Baseline, claim: int, complete: bool) -> Forced | None:
    """Force one plant more in one pass."""
    path = forced_start(was.beginning, claim, was.given[claim] + 1)
    if path is None:
        return None
    found: Forced | None = None
    try:
        for rule in STAGES:
            if found is not None and not complete:
                return found
            next_rule(path, rule)
            fell = was.values[rule - 1] - (path.proofs[-1].value or 0)
            if fell > 0 and found is None:
                found = Forced(rule, fell, path, was)
        return found or _parcels(was, path)
    except SolverFailed:
        return None


def _parcels(was: Baseline, path: Progress) -> Forced:
    """Compare parcels and postage."""
    proofs = choose_parcels(path.case, path, prove=False).proofs
    for rule, proof in zip((Rule.FEWEST_PARCELS, Rule.POSTAGE), proofs, strict=True):
        value = was.values[rule - 1]
        if proof.value is not None and proof.value > value:
            return Forced(rule, proof.value - value, path, was)
    return Forced(Rule.DRAW, 0, path, was)
