"""Rules 5 and 6 and the draw: fewest parcels, then postage, then ties."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.branch import Aim, prove_by_branching
from exchange.domain.optimise.grid import Face, IntegerProgram, cost_array
from exchange.domain.optimise.programme import Ints, SolverFailed, Watch
from exchange.domain.optimise.shrink import holds, lowered
from exchange.domain.optimise.whole import LARGE, SearchHints, WiderProgramme, best_whole
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.proof import SKIPPED, Proof, tree_values
from exchange.domain.sharing.sourcing import ColumnLimits, take_apart
from exchange.domain.sharing.stages import Hold, Progress, Region, grid_of

SMALL = 3000
"""Up to this many columns, ties are drawn over all share-outs equal under every rule, and duals kept for a proof."""

COLUMNS_IN_ALL = 40_000
"""How many leaves are grown for a proof: this many columns in all leaves together."""

PROVABLE = 500
"""Above this many columns, rules 5 and 6 are proven by the first leaf or not by duals at all."""


NOTHING = -(10**15)
"""Stands for no value and no proof: below anything that parcels or postage can come to."""


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
    single, parcels, elsewhere : as in `Sourcing`
    costs : by rule, what each column counts, to be maximised
    x : the best answer so far, None once the region is left aside
    out, shown : whether the solver says, and whether duals prove, that it holds no best answer
    wider : where the bound is looked for, when this is one region of many in a large circle
    """

    single: tuple[tuple[int, int], ...]
    parcels: Ints
    elsewhere: tuple[int, int]
    costs: Mapping[int, Ints]
    grid: IntegerProgram
    face: Face
    x: Ints | None = None
    out: bool = False
    shown: bool = False
    wider: "_Work | None" = None

    def hold(self, rule: int, value: int) -> None:
        """Hold what a rule has reached by a row."""
        columns = np.flatnonzero(self.costs[rule])
        self.grid = _with_row(self.grid, columns, -self.costs[rule][columns], -value)
        self.face = replace(self.face, equal=np.append(self.face.equal, False))
        if self.wider is not None:
            self.wider.hold(rule, value + self.apart(rule) - self.wider.apart(rule))

    def apart(self, rule: int) -> int:
        """Give what a rule counts between ends without any column, as a maximum."""
        return -self.elsewhere[rule - 5]


def _with_row(grid: IntegerProgram, columns: Ints, value: Ints, limit: int) -> IntegerProgram:
    """Add a row to a grid."""
    row = np.full(len(columns), len(grid.limits), dtype=np.int64)
    return replace(
        grid,
        starts=np.append(grid.starts, grid.starts[-1] + len(columns)),
        index=np.concatenate((grid.index, columns)),
        value=np.concatenate((grid.value, value)),
        row_of=np.concatenate((grid.row_of, row)),
        limits=np.append(grid.limits, limit),
    )


@dataclass(frozen=True, slots=True)
class _Tried:
    """What one region came to under one rule: the solver's value and bound, and what duals prove."""

    value: int | None
    bound: int
    by_duals: int
    tree: list[dict[str, object]] | None


def choose_parcels(case: ShareOutCase, path: Progress, *, prove: bool = True) -> Sourced:
    """Choose spares for the fewest parcels, then the least postage, then by the draw.

    Parameters
    ----------
    prove : whether duals are gathered to prove rules 5 and 6; a what-if question needs none

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    works = _works(case, path)
    parcels = _rule(case, path, works, 5, prove)
    postage = SKIPPED if case.postage is None else _rule(case, path, works, 6, prove)
    work, x = _drawn(case, works, path.watch)
    counts: dict[tuple[int, int], int] = {}
    for number, (spare, claim) in enumerate(work.single):
        if x[number]:
            counts[case.spares[spare].id, case.claims[claim].id] = int(x[number])
    return Sourced(counts, (_as_drawn(parcels, work, x, 5), _as_drawn(postage, work, x, 6)))


def _works(case: ShareOutCase, path: Progress) -> list[_Work]:
    """Take the regions apart; in a large circle only the one that holds an answer, and all of them as one for the bound."""
    if len(path.regions) == 1 or path.pairs.count <= LARGE:
        return [_work(case, path, region) for region in path.regions]
    region = next((one for one in path.regions if holds(one.grid, one.face, path.x)), None)
    work = _work(case, path, region or path.regions[0])
    work.wider = _work(case, path, _united(path))
    return [work]


def _united(path: Progress) -> Region:
    """Give a region that holds all the others."""
    faces = [region.face for region in path.regions]
    plain = len(path.layout.model.limits)
    face = Face(
        np.min([one.lower for one in faces], axis=0),
        np.max([one.upper for one in faces], axis=0),
        np.all([one.equal[:plain] for one in faces], axis=0),
    )
    return Region(path.regions[0].grid, face)


def _work(case: ShareOutCase, path: Progress, region: Region) -> _Work:
    """Take a region apart into single spares."""
    face = region.face
    limits = ColumnLimits(face.lower.tolist(), face.upper.tolist(), face.equal.tolist())
    sourcing = take_apart(case, path.pairs, path.layout, limits, region.more)
    model, found = sourcing.model, sourcing.limits
    apart = Face(
        np.array(found.lower, dtype=np.int64),
        np.array(found.upper, dtype=np.int64),
        np.array(found.equal, dtype=bool),
    )
    grid = grid_of(model)
    return _Work(
        single=sourcing.single,
        parcels=np.fromiter(sourcing.parcels, dtype=np.int64),
        elsewhere=sourcing.elsewhere,
        costs={rule: cost_array(grid, model.aims[rule]) for rule in (5, 6)},
        grid=grid,
        face=apart,
        x=np.zeros(grid.columns, dtype=np.int64),
    )


def _rule(case: ShareOutCase, path: Progress, works: list[_Work], rule: int, prove: bool) -> Proof:
    """Solve one of rules 5 and 6 in every region, and hold it in those that reach the best."""
    tried = [_try(case, path.watch, work, rule, prove) for work in works]
    reached = [one.value for one in tried if one.value is not None]
    if not reached:
        raise SolverFailed("no region holds an answer for parcels")
    value = max(reached)
    for work, one in zip(works, tried, strict=True):
        if one.value == value:
            work.hold(rule, value - work.apart(rule))
        elif work.x is not None:
            work.x = None
            work.out, work.shown = one.bound < value, one.tree is not None and one.by_duals < value
    by_duals = max(one.by_duals for one in tried)
    bound = max(value, *(one.bound for one in tried))
    every = all(one.tree is not None or work.shown for work, one in zip(works, tried, strict=True))
    proven = by_duals == value and every and path.hold is not Hold.VARIETY
    trees = [one.tree for one in tried] if len(works) > 1 else [tried[0].tree] * len(path.regions)
    return Proof(-value, -bound, by_duals=proven, trees=trees, hold=path.hold.value)


def _try(case: ShareOutCase, watch: Watch, work: _Work, rule: int, prove: bool) -> _Tried:
    """Solve a rule in one region."""
    apart, size = work.apart(rule), work.grid.columns
    if work.x is None:
        return _Tried(None, NOTHING if work.out else apart, NOTHING, None)
    stage = "fewest parcels" if rule == 5 else "postage"
    aim = Aim(stage, work.costs[rule], watch, case.terms.node_limit)
    try:
        found = best_whole(work.grid, work.face, aim, _sides(case, work, rule))
    except SolverFailed:
        return _Tried(None, NOTHING, NOTHING, None)
    if found.x is None:
        return _Tried(None, found.bound + apart, NOTHING, None)
    work.x = found.x
    if not prove or size > SMALL or work.wider is not None:
        return _Tried(found.value + apart, found.bound + apart, NOTHING, None)
    most = max(1, COLUMNS_IN_ALL // max(1, size)) if size <= PROVABLE else 1
    best = prove_by_branching(work.grid, work.face, aim, found.x, most)
    work.x = best.x
    smallest = max(best.value, min(found.bound, best.bound))
    return _Tried(
        best.value + apart, smallest + apart, best.bound + apart, tree_values(best.leaves)
    )


def _sides(case: ShareOutCase, work: _Work, rule: int) -> SearchHints:
    """Give what helps a large search: rule 6 knows the answer of rule 5, which has looked ahead to it."""
    wider = None
    if work.wider is not None:
        one = work.wider
        wider = WiderProgramme(
            one.grid, one.face, one.costs[rule], one.apart(rule) - work.apart(rule)
        )
    if rule == 6:
        return SearchHints(known=work.x, wider=wider)
    return SearchHints(after=None if case.postage is None else work.costs[6], wider=wider)


def _as_drawn(proof: Proof, work: _Work, x: Ints, rule: int) -> Proof:
    """Give the proof of what the draw has left: where a rule is not proven, the draw may come upon fewer parcels."""
    if proof.value is None:
        return proof
    return replace(proof, value=-int(work.costs[rule] @ x) - work.apart(rule))


def _drawn(case: ShareOutCase, works: list[_Work], watch: Watch) -> tuple[_Work, Ints]:
    """Decide ties: the largest sum of drawn numbers among share-outs equal under every rule.

    In a large circle only those with the same parcels are looked at.
    """
    found = []
    for number, work in enumerate(works):
        if work.x is not None:
            cost = _draws(case, work)
            face = _same_parcels(work, work.x) if work.grid.columns > SMALL else work.face
            aim = Aim("draw", cost, watch, case.terms.node_limit)
            best = best_whole(work.grid, face, aim, SearchHints(known=work.x))
            x = work.x if best.x is None else best.x
            found.append((best.value, -number, _lowest(work, x)))
    _, where, x = max(found, key=lambda one: one[:2])
    return works[-where], x


def _lowest(work: _Work, x: Ints) -> Ints:
    """Give an answer with no more parcels than its plants need."""
    return lowered(work.grid, work.face, work.costs[5], x)


def _draws(case: ShareOutCase, work: _Work) -> Ints:
    """Give the number each claim drew for each spare."""
    cost = np.zeros(work.grid.columns, dtype=np.int64)
    for number, (spare, claim) in enumerate(work.single):
        cost[number] = drawn(case.draw_number, case.claims[claim].id, case.spares[spare].id)
    return cost


def _same_parcels(work: _Work, x: Ints) -> Face:
    """Give the face of answers that need no parcel beyond those of an answer."""
    lower, upper = work.face.lower.copy(), work.face.upper.copy()
    upper[work.parcels] = np.minimum(upper[work.parcels], x[work.parcels])
    return replace(work.face, lower=np.minimum(lower, upper), upper=upper)
