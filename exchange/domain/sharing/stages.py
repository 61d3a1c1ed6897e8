"""The rules one after another, each on the face the one before has left."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from exchange.domain.optimise.branch import Aim, Leaf, Maximum, maximise
from exchange.domain.optimise.concave import Curve, CurveMaximum, Task, maximise_curves
from exchange.domain.optimise.grid import Face, Grid, cost_array, make_grid, whole_face
from exchange.domain.optimise.programme import Ints, Watch
from exchange.domain.sharing.case import Case
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.model import Layout, build
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.parcels import choose_parcels
from exchange.domain.sharing.proof import Proof, leaf_values
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.rules import values

STAGES = {2: "one each", 3: "fair", 4: "wishes"}


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver found.

    Attributes
    ----------
    counts : by spare id and claim id, beyond what stands [plants]
    proofs : of rules 1 to 6
    decided : by claim index, the rule that settled the claim
    """

    counts: Mapping[tuple[int, int], int]
    proofs: tuple[Proof, ...]
    decided: Mapping[int, Rule]


@dataclass(slots=True)
class Path:
    """The way through the rules so far."""

    case: Case
    pairs: Pairs
    measure: Measure
    watch: Watch
    layout: Layout
    grid: Grid
    face: Face
    constants: tuple[int, ...]
    x: Ints
    proofs: list[Proof] = field(default_factory=list)
    held: list[str] = field(default_factory=list)
    settled: dict[int, Rule] = field(default_factory=dict)


def solve_stages(case: Case, pairs: Pairs, measure: Measure, watch: Watch) -> Solved:
    """Solve all rules in their order.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    path = four_rules(case, pairs, measure, watch)
    found = choose_parcels(path.case, path.pairs, path.layout, path.face, watch)
    return Solved(found.counts, (*path.proofs, *found.proofs), path.settled)


def four_rules(case: Case, pairs: Pairs, measure: Measure, watch: Watch) -> Path:
    """Solve rules 1 to 4; when the face of rule 1 lets its value slip, hold each variety's and go again."""
    path = _start(case, pairs, measure, watch)
    _first(path, hold=False)
    value = path.proofs[0].value
    for rule, stage in STAGES.items():
        _next(path, rule, stage)
    if _losses_now(path) != value:
        path = _start(case, pairs, measure, watch)
        _first(path, hold=True)
        for rule, stage in STAGES.items():
            _next(path, rule, stage)
    return path


def _start(case: Case, pairs: Pairs, measure: Measure, watch: Watch) -> Path:
    """Stand at the beginning."""
    layout = build(case, pairs, measure)
    model = layout.model
    grid = make_grid(model.rows, model.limits, model.upper)
    constants = values(case, case.standing, measure)
    nothing = np.zeros(grid.columns, dtype=np.int64)
    return Path(case, pairs, measure, watch, layout, grid, whole_face(grid), constants, nothing)


def curves_of(path: Path) -> tuple[Curve, ...]:
    """Give rule 1's curve of each variety that has steps."""
    found = []
    for variety, steps in path.layout.steps.items():
        counts, drops = path.measure.losses[variety].reachable()
        columns = np.array([column for column, _ in steps], dtype=np.int64)
        weights = np.array([weight for _, weight in steps], dtype=np.int64)
        found.append(Curve(columns, weights, counts, drops))
    return tuple(found)


def _first(path: Path, *, hold: bool) -> None:
    """Solve rule 1."""
    curves = curves_of(path)
    if not curves:
        path.proofs.append(Proof(path.constants[0], path.constants[0], by_duals=True))
        return
    task = Task(path.grid, curves, "must not be lost", path.watch)
    best = maximise_curves(task, path.face)
    apart = path.constants[0] - sum(int(curve.values[0]) for curve in curves)
    proof = Proof(
        best.value + apart,
        best.bound + apart,
        by_duals=best.bound == best.value,
        leaves=_curve_leaves(path, best),
    )
    path.proofs.append(proof)
    _settle(path, best.face, Rule.MUST_NOT_BE_LOST)
    if hold or len(best.leaves) > 1:
        for variety, steps in path.layout.steps.items():
            reached = sum(weight * int(best.x[column]) for column, weight in steps)
            _hold(path, [(column, -weight) for column, weight in steps], -reached)
            path.held.append(f"variety {variety}")


def _curve_leaves(path: Path, best: CurveMaximum) -> list[dict[str, Any]]:
    """Give the leaves of rule 1 as plain values."""
    varieties = list(path.layout.steps)
    return [
        {
            **leaf_values(Leaf(leaf.path, 1, leaf.duals, leaf.bound)),
            "slopes": [
                [variety, slope] for variety, slope in zip(varieties, leaf.slopes, strict=True)
            ],
        }
        for leaf in best.leaves
    ]


def _next(path: Path, rule: int, stage: str) -> None:
    """Solve one of rules 2 to 4."""
    aim = path.layout.model.aims[rule]
    constant = path.constants[rule - 1]
    cost = cost_array(path.grid, aim)
    best = maximise(path.grid, path.face, Aim(stage, cost, path.watch))
    path.x = best.x
    path.proofs.append(_linear_proof(best, constant, tuple(path.held)))
    _settle(path, best.face, Rule(rule))
    if len(best.leaves) > 1:
        _hold(path, [(column, -weight) for column, weight in aim.items()], -best.value)
        path.held.append(f"rule {rule}")


def _linear_proof(best: Maximum, constant: int, held: tuple[str, ...]) -> Proof:
    """Give the proof of one of rules 2 to 4."""
    return Proof(
        best.value + constant,
        best.bound + constant,
        by_duals=best.proven,
        leaves=[leaf_values(leaf) for leaf in best.leaves],
        held=held,
    )


def _hold(path: Path, entries: list[tuple[int, int]], limit: int) -> None:
    """Add a row that holds what a rule has reached, where its face alone does not."""
    model = path.layout.model
    model.row(entries, limit)
    path.grid = make_grid(model.rows, model.limits, model.upper)
    path.face = Face(path.face.lower, path.face.upper, np.append(path.face.equal, False))


def _settle(path: Path, face: Face, rule: Rule) -> None:
    """Take over a rule's face and note the claims it settles: those with no column free any more."""
    path.face = face
    free = face.lower < face.upper
    open_claims = {pair.claim for number, pair in enumerate(path.pairs.pairs) if free[number]}
    for claim in {pair.claim for pair in path.pairs.pairs} - open_claims:
        path.settled.setdefault(claim, rule)


def _losses_now(path: Path) -> int:
    """Give rule 1's value of the latest answer, by plain arithmetic."""
    received: defaultdict[int, dict[int, int]] = defaultdict(dict)
    for variety, loss in path.measure.losses.items():
        received[variety].update(loss.standing)
    for number, pair in enumerate(path.pairs.pairs):
        places = received[path.pairs.pools[pair.pool].variety_id]
        place = path.case.claims[pair.claim].place_id
        places[place] = places.get(place, 0) + int(path.x[number])
    return sum(
        loss.drop(loss.total(received[variety])) for variety, loss in path.measure.losses.items()
    )
