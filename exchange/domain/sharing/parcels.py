"""Rules 5 and 6 and the draw: fewest parcels, then postage, then ties."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from exchange.domain.optimise.branch import prove_by_branching
from exchange.domain.optimise.grid import (
    Face,
    IntegerProgram,
    cost_array,
    is_whole,
    longer,
    lowered,
)
from exchange.domain.optimise.parts import Ends, SearchHints
from exchange.domain.optimise.programme import Aim, Ints, Watch
from exchange.domain.optimise.solve import solve_linear
from exchange.domain.optimise.whole import best_whole
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.outcome import NAMES, SMALL_CIRCLE
from exchange.domain.sharing.proof import SKIPPED, Proof, tree_values
from exchange.domain.sharing.sourcing import ColumnLimits, Sourcing, take_apart
from exchange.domain.sharing.stages import Progress, grid_of

SMALL = 3000
"""Up to this many columns, ties are drawn over all share-outs equal under every rule, and duals kept for a proof."""

COLUMNS_IN_ALL = 40_000
"""How many leaves are grown for a proof: this many columns in all leaves together."""

KEPT = 60_000
"""Above this many columns the duals of rules 5 and 6 are not kept for the checker, unless the circle is small [columns]."""

PROVABLE = 1500
"""Above this many columns, rules 5 and 6 are proven by the first leaf or not by duals at all."""


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
    """The rules of parcels under way.

    Attributes
    ----------
    single, parcels, elsewhere : as in `Sourcing`
    costs : by rule, what each column counts, to be maximised
    x : the best answer so far
    ends : what plants run between
    """

    single: tuple[tuple[int, int], ...]
    parcels: Ints
    elsewhere: tuple[int, int]
    costs: Mapping[int, Ints]
    grid: IntegerProgram
    face: Face
    x: Ints
    ends: Ends

    def hold(self, rule: int, value: int) -> None:
        """Hold what a rule has reached by a row."""
        columns = np.flatnonzero(self.costs[rule])
        entries = list(zip(columns.tolist(), (-self.costs[rule][columns]).tolist(), strict=True))
        self.grid = longer(self.grid, [entries], [-value])
        self.face = replace(self.face, equal=np.append(self.face.equal, False))


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
    work = _work(case, path)
    parcels = _rule(case, path.watch, work, 5, prove)
    postage = SKIPPED if case.postage is None else _rule(case, path.watch, work, 6, prove)
    x = _drawn(case, work, path.watch)
    counts: dict[tuple[int, int], int] = {}
    for number, (spare, claim) in enumerate(work.single):
        if x[number]:
            counts[case.spares[spare].id, case.claims[claim].id] = int(x[number])
    return Sourced(counts, (_as_drawn(parcels, work, x, 5), _as_drawn(postage, work, x, 6)))


def _work(case: ShareOutCase, path: Progress) -> _Work:
    """Take the pools apart into single spares."""
    face = path.face
    limits = ColumnLimits(face.lower.tolist(), face.upper.tolist(), face.equal.tolist())
    sourcing = take_apart(case, path.pairs, path.layout, limits, path.more)
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
        ends=_ends(case, sourcing),
    )


def _ends(case: ShareOutCase, sourcing: Sourcing) -> Ends:
    """Give what plants run between: households, places, and parcels."""
    column = {ends: number for number, ends in sourcing.parcels.items()}
    sender = [case.spares[spare].household_id for spare, _ in sourcing.single]
    receiver = [case.claims[claim].place_id for _, claim in sourcing.single]
    return Ends(
        np.array(sender, dtype=np.int64),
        np.array(receiver, dtype=np.int64),
        np.array([column[one] for one in zip(sender, receiver, strict=True)], dtype=np.int64),
    )


def _rule(case: ShareOutCase, watch: Watch, work: _Work, rule: int, prove: bool) -> Proof:
    """Solve one of rules 5 and 6, and hold it."""
    aim = Aim(NAMES[rule - 1], work.costs[rule], watch, case.terms.node_limit)
    found = best_whole(work.grid, work.face, aim, _hints(case, work, rule))
    work.x, size = found.x, work.grid.columns
    value, bound, by_duals = found.value, found.bound, False
    # Of a small circle nothing is claimed that the duals do not show.
    small = len(case.households) <= SMALL_CIRCLE
    tree = None if found.leaf is None or (size > KEPT and not small) else tree_values([found.leaf])
    if prove and found.leaf is None and (small or size <= SMALL):
        most = max(1, COLUMNS_IN_ALL // max(1, size)) if size <= PROVABLE else 1
        best = prove_by_branching(work.grid, work.face, aim, found.x, most)
        work.x = best.x
        value, tree = best.value, tree_values(best.leaves)
        bound, by_duals = best.bound, True
    if tree is not None and found.leaf is not None:
        bound = max(value, found.leaf.bound) if small else bound
        by_duals = found.leaf.bound <= bound
    work.hold(rule, value)
    apart = work.elsewhere[rule - 5]
    return Proof(apart - value, apart - bound, by_duals, tree)


def _hints(case: ShareOutCase, work: _Work, rule: int) -> SearchHints:
    """Give what helps a large search: rule 6 knows the answer of rule 5, which has looked ahead to it."""
    if rule == 6:
        return SearchHints(work.ends, known=work.x)
    return SearchHints(work.ends, after=None if case.postage is None else work.costs[6])


def _as_drawn(proof: Proof, work: _Work, x: Ints, rule: int) -> Proof:
    """Give the proof of what the draw has left: where a rule is not proven, the draw may come upon fewer parcels."""
    if proof.value is None:
        return proof
    return replace(proof, value=work.elsewhere[rule - 5] - int(work.costs[rule] @ x))


def _drawn(case: ShareOutCase, work: _Work, watch: Watch) -> Ints:
    """Decide ties: the largest sum of drawn numbers among share-outs equal under every rule.

    In a large circle only those with the same parcels are looked at.
    """
    cost = _draws(case, work)
    x, aim = work.x, Aim("draw", cost, watch, case.terms.node_limit)
    if work.grid.columns > SMALL:
        drawn_x = solve_linear(work.grid, _same_parcels(work, x), aim).x
        x = np.rint(drawn_x).astype(np.int64) if is_whole(drawn_x) else x
    else:
        x = best_whole(work.grid, work.face, aim, SearchHints(work.ends, known=x)).x
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
