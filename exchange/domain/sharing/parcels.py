"""Rules 5 and 6 and the draw: fewest parcels, then postage, then ties."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.branch import Aim, prove_by_branching
from exchange.domain.optimise.grid import Face, Grid, cost_array, make_grid, programme
from exchange.domain.optimise.programme import Ints, SolverFailed, Watch
from exchange.domain.optimise.solve import solve_whole
from exchange.domain.sharing.case import Case
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.proof import SKIPPED, Proof, tree_values
from exchange.domain.sharing.sourcing import Limits, Sourcing, take_apart
from exchange.domain.sharing.stages import Hold, Path, Region

SMALL = 3000
"""Up to so many columns, ties are drawn over all share-outs that are equal under every rule."""

COLUMNS_IN_ALL = 40_000
"""How many leaves are grown for a proof: so many columns in all leaves together."""

PROVABLE = 500
"""Beyond so many columns, rules 5 and 6 are proven by the first leaf or not by duals at all."""


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
    """The rules of parcels under way in one region.

    Attributes
    ----------
    x : the best answer so far, None once the region is out of the running
    """

    sourcing: Sourcing
    grid: Grid
    face: Face
    prove: bool
    x: Ints | None = None

    def hold(self, rule: int, value: int) -> None:
        """Hold what a rule has reached by a row."""
        model = self.sourcing.model
        model.row([(one, -weight) for one, weight in model.aims[rule].items()], -value)
        self.grid = make_grid(model.rows, model.limits, model.upper)
        self.face = replace(self.face, equal=np.append(self.face.equal, False))


@dataclass(frozen=True, slots=True)
class _Tried:
    """What one region came to under one rule: the solver's value and bound, and what duals prove."""

    value: int | None
    bound: int
    by_duals: int
    tree: list[dict[str, object]] | None


def choose_parcels(case: Case, path: Path, *, prove: bool = True) -> Sourced:
    """Choose spares for the fewest parcels, then the least postage, then by the draw.

    Parameters
    ----------
    prove : whether duals are gathered to prove rules 5 and 6; a question of what if needs none

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    works = [_work(case, path, region, prove=prove) for region in path.regions]
    parcels = _rule(case, path, works, 5)
    postage = SKIPPED if case.postage is None else _rule(case, path, works, 6)
    work, x = _drawn(case, works, path.watch)
    counts: dict[tuple[int, int], int] = {}
    for number, (spare, claim) in enumerate(work.sourcing.single):
        if x[number]:
            counts[case.spares[spare].id, case.claims[claim].id] = int(x[number])
    return Sourced(counts, (parcels, postage))


def _work(case: Case, path: Path, region: Region, *, prove: bool) -> _Work:
    """Take a region apart into single spares."""
    face = region.face
    limits = Limits(face.lower.tolist(), face.upper.tolist(), face.equal.tolist())
    sourcing = take_apart(case, path.pairs, path.layout, limits, region.more)
    model, found = sourcing.model, sourcing.limits
    apart = Face(
        np.array(found.lower, dtype=np.int64),
        np.array(found.upper, dtype=np.int64),
        np.array(found.equal, dtype=bool),
    )
    grid = make_grid(model.rows, model.limits, model.upper)
    return _Work(sourcing, grid, apart, prove, np.zeros(grid.columns, dtype=np.int64))


def _rule(case: Case, path: Path, works: list[_Work], rule: int) -> Proof:
    """Solve one of rules 5 and 6 in every region, and hold it in those that reach the best."""
    tried = [_try(case, path.watch, work, rule) for work in works]
    reached = [one.value for one in tried if one.value is not None]
    if not reached:
        raise SolverFailed("no region holds an answer for parcels")
    value = max(reached)
    for work, one in zip(works, tried, strict=True):
        if one.value == value:
            work.hold(rule, value - _elsewhere(work, rule))
        else:
            work.x = None
    by_duals = max(one.by_duals for one in tried)
    bound = max(value, *(one.bound for one in tried))
    proven = by_duals == value and path.hold is not Hold.VARIETY
    trees = [one.tree for one in tried]
    return Proof(-value, -bound, by_duals=proven, trees=trees, hold=path.hold.value)


def _elsewhere(work: _Work, rule: int) -> int:
    """Give what a rule counts between ends without any column, as a maximum."""
    return -work.sourcing.elsewhere[rule - 5]


def _try(case: Case, watch: Watch, work: _Work, rule: int) -> _Tried:
    """Solve a rule in one region."""
    nothing = -(10**15)
    if work.x is None:
        return _Tried(None, nothing, nothing, None)
    cost = cost_array(work.grid, work.sourcing.model.aims[rule])
    stage = "fewest parcels" if rule == 5 else "postage"
    aim = Aim(stage, cost, watch, case.terms.node_limit)
    try:
        answer = solve_whole(programme(work.grid, work.face, cost), stage, watch, aim.node_limit)
    except SolverFailed:
        return _Tried(None, nothing, nothing, None)
    x = np.rint(answer.x).astype(np.int64)
    apart = _elsewhere(work, rule)
    bound = int(cost @ x) if answer.optimal else int(np.floor(answer.bound + 1e-6))
    if not work.prove:
        work.x = x
        return _Tried(int(cost @ x) + apart, bound + apart, nothing, [])
    size = work.grid.columns
    most = max(1, COLUMNS_IN_ALL // max(1, size)) if size <= PROVABLE else 1
    best = prove_by_branching(work.grid, work.face, aim, x, most)
    work.x = best.x
    bound = best.value if answer.optimal else bound
    smallest = min(bound, best.bound) if not best.proven else best.bound
    return _Tried(
        best.value + apart, smallest + apart, best.bound + apart, tree_values(best.leaves)
    )


def _drawn(case: Case, works: list[_Work], watch: Watch) -> tuple[_Work, Ints]:
    """Decide ties: the largest sum of drawn numbers among share-outs equal under every rule.

    In a large circle only those with the same parcels are looked at.
    """
    found = []
    for number, work in enumerate(works):
        if work.x is not None:
            cost = _draws(case, work)
            face = _same_parcels(work, work.x) if work.grid.columns > SMALL else work.face
            limit = case.terms.node_limit
            answer = solve_whole(programme(work.grid, face, cost), "draw", watch, limit)
            x = np.rint(answer.x).astype(np.int64)
            found.append((int(cost @ x), -number, x))
    _, where, x = max(found, key=lambda one: one[:2])
    return works[-where], x


def _draws(case: Case, work: _Work) -> Ints:
    """Give the number each claim drew for each spare."""
    cost = np.zeros(work.grid.columns, dtype=np.int64)
    for number, (spare, claim) in enumerate(work.sourcing.single):
        cost[number] = drawn(case.draw_number, case.claims[claim].id, case.spares[spare].id)
    return cost


def _same_parcels(work: _Work, x: Ints) -> Face:
    """Give the face of answers that need no parcel beyond those of an answer."""
    lower, upper = work.face.lower.copy(), work.face.upper.copy()
    parcels = np.fromiter(work.sourcing.parcels, dtype=np.int64)
    upper[parcels] = np.minimum(upper[parcels], x[parcels])
    return replace(work.face, lower=np.minimum(lower, upper), upper=upper)
