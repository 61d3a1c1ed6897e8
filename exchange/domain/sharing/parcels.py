"""Rules 5 and 6 and the draw: fewest parcels, then postage, then ties."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.branch import Aim, prove_by_branching
from exchange.domain.optimise.grid import Face, Grid, cost_array, make_grid, programme
from exchange.domain.optimise.programme import Ints, Watch
from exchange.domain.optimise.solve import solve_whole
from exchange.domain.sharing.case import Case
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.model import Layout
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.proof import SKIPPED, Proof, leaf_values
from exchange.domain.sharing.sourcing import Limits, Sourcing, take_apart

SMALL = 3000
"""Up to so many columns, rules 5 and 6 are proven by branches of our own, and ties drawn over all share-outs."""

MOST_LEAVES = 400


@dataclass(frozen=True, slots=True)
class Sourced:
    """Which spare goes to which claim, and how sure the parcels are.

    Attributes
    ----------
    counts : by spare id and claim id, beyond what stands [plants]
    proofs : of rules 5 and 6
    """

    counts: Mapping[tuple[int, int], int]
    proofs: tuple[Proof, Proof]


@dataclass(slots=True)
class _Work:
    """The rules of parcels under way."""

    case: Case
    sourcing: Sourcing
    watch: Watch
    grid: Grid
    face: Face
    held: tuple[str, ...] = ()

    def hold(self, rule: int, value: int) -> None:
        """Hold what a rule has reached by a row."""
        aim = self.sourcing.model.aims[rule]
        self.sourcing.model.row([(one, -weight) for one, weight in aim.items()], -value)
        model = self.sourcing.model
        self.grid = make_grid(model.rows, model.limits, model.upper)
        self.face = replace(self.face, equal=np.append(self.face.equal, False))
        self.held = (*self.held, f"rule {rule}")


def choose_parcels(case: Case, pairs: Pairs, layout: Layout, face: Face, watch: Watch) -> Sourced:
    """Choose spares for the fewest parcels, then the least postage, then by the draw.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    limits = Limits(face.lower.tolist(), face.upper.tolist(), face.equal.tolist())
    sourcing = take_apart(case, pairs, layout, limits)
    work = _work(case, sourcing, watch)
    parcels, x = _rule(work, 5, "fewest parcels")
    postage = SKIPPED
    if case.postage is not None:
        postage, x = _rule(work, 6, "postage")
    x = _drawn(work, x)
    counts: dict[tuple[int, int], int] = {}
    for number, (spare, claim) in enumerate(sourcing.single):
        if x[number]:
            counts[case.spares[spare].id, case.claims[claim].id] = int(x[number])
    return Sourced(counts, (parcels, postage))


def _work(case: Case, sourcing: Sourcing, watch: Watch) -> _Work:
    """Put the model into arrays."""
    model, limits = sourcing.model, sourcing.limits
    grid = make_grid(model.rows, model.limits, model.upper)
    face = Face(
        np.array(limits.lower, dtype=np.int64),
        np.array(limits.upper, dtype=np.int64),
        np.array(limits.equal, dtype=bool),
    )
    return _Work(case, sourcing, watch, grid, face)


def _rule(work: _Work, rule: int, stage: str) -> tuple[Proof, Ints]:
    """Solve one of rules 5 and 6 and hold it for what follows."""
    cost = cost_array(work.grid, work.sourcing.model.aims[rule])
    aim = Aim(stage, cost, work.watch, work.case.terms.node_limit)
    answer = solve_whole(programme(work.grid, work.face, cost), stage, work.watch, aim.node_limit)
    x = np.rint(answer.x).astype(np.int64)
    value = int(cost @ x)
    most = MOST_LEAVES if work.grid.columns <= SMALL else 1
    best = prove_by_branching(work.grid, work.face, aim, x, most)
    bound = best.bound
    if not best.proven and answer.optimal:
        bound = value
    elif not best.proven:
        bound = min(bound, int(np.floor(answer.bound + 1e-6)))
    elsewhere = work.sourcing.elsewhere[rule - 5]
    proof = Proof(
        elsewhere - value,
        elsewhere - bound,
        by_duals=best.proven,
        leaves=[leaf_values(leaf) for leaf in best.leaves],
        held=work.held,
    )
    work.hold(rule, value)
    return proof, best.x


def _drawn(work: _Work, x: Ints) -> Ints:
    """Decide ties: the largest sum of drawn numbers among share-outs equal under every rule.

    In a large circle only those with the same parcels are looked at.
    """
    cost = np.zeros(work.grid.columns, dtype=np.int64)
    for number, (spare, claim) in enumerate(work.sourcing.single):
        spare_id, claim_id = work.case.spares[spare].id, work.case.claims[claim].id
        cost[number] = drawn(work.case.draw_number, claim_id, spare_id)
    face = work.face
    if work.grid.columns > SMALL:
        lower, upper = face.lower.copy(), face.upper.copy()
        parcels = np.fromiter(work.sourcing.parcels, dtype=np.int64)
        upper[parcels] = np.minimum(upper[parcels], x[parcels])
        face = replace(face, lower=np.minimum(lower, upper), upper=upper)
    limit = work.case.terms.node_limit
    answer = solve_whole(programme(work.grid, face, cost), "draw", work.watch, limit)
    return np.rint(answer.x).astype(np.int64)
