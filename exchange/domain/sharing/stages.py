"""Rules 1 to 4 one after another, each on the faces the one before has left.

Most of the time there is one region: the rows, and one face. Where a rule had to be branched, each leaf that can still
hold a best answer becomes a region of its own, so that no best answer is lost on the way.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from exchange.domain.optimise.below_lines import Maximisation
from exchange.domain.optimise.branch import Aim, Leaf, faces_of, maximise
from exchange.domain.optimise.concave import CurveFace, CurveMaximum, maximise_curves
from exchange.domain.optimise.curves import NOISE, Curve
from exchange.domain.optimise.grid import (
    Face,
    IntegerProgram,
    cost_array,
    flat_grid,
    longer,
    whole_face,
)
from exchange.domain.optimise.programme import Ints, SolverFailed, Watch
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.losses import TOLD, settled_drop
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.model import Layout, Model, build
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.proof import Proof, leaf_values, tree_values
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.rules import values

STAGES = {2: "one each", 3: "fair", 4: "wishes"}

Row = tuple[list[tuple[int, int]], int]


class Hold(StrEnum):
    """How rule 1 is held while the later rules are solved."""

    TOUCH = "touch"
    VARIETY = "variety"


@dataclass(frozen=True, slots=True)
class Region:
    """Rows beyond those of the model, and the face within them."""

    grid: IntegerProgram
    face: Face
    more: tuple[Row, ...] = ()


@dataclass(slots=True)
class Progress:
    """The way through rules 1 to 4 so far.

    Attributes
    ----------
    regions : where the best answers lie
    x : one of the best answers so far
    settled : by claim index, the rule that left it no freedom
    """

    case: ShareOutCase
    pairs: Pairs
    measure: Measure
    watch: Watch
    layout: Layout
    constants: tuple[int, ...]
    regions: list[Region]
    x: Ints
    proofs: list[Proof] = field(default_factory=list)
    settled: dict[int, Rule] = field(default_factory=dict)
    hold: Hold = Hold.TOUCH


def four_rules(beginning: Progress) -> Progress:
    """Solve rules 1 to 4, and leave the beginning as it is.

    Rule 1 is a sum of curves, so on the flat face of its tangents its value could fall. Its counts are held between the points where the bound
    touches the curves, which loses no answer; should it still fall, they are held variety by variety at what was reached.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    path = afresh(beginning, beginning.regions)
    if not solve_from(path):
        path = afresh(beginning, beginning.regions)
        path.hold = Hold.VARIETY
        solve_from(path)
    return path


def solve_from(path: Progress) -> bool:
    """Solve rules 1 to 4 from a beginning; say whether rule 1 kept its value.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when there is no answer, which can only be where a claim is forced
    """
    first_rule(path)
    value = losses_now(path)
    for rule in STAGES:
        next_rule(path, rule)
    return losses_now(path) >= value - NOISE


def forced_start(beginning: Progress, claim: int, plants: int) -> Progress | None:
    """Force one claim (by index) to so many plants from the beginning; None when no spare could serve it."""
    case = beginning.case
    columns = np.flatnonzero(beginning.pairs.claim == claim).tolist()
    stands = sum(one.count for one in case.standing if one.claim_id == case.claims[claim].id)
    if not columns:
        return None
    row = ([(column, -1) for column in columns], stands - plants)
    return afresh(beginning, [_held(one, (row,)) for one in beginning.regions])


def afresh(beginning: Progress, regions: list[Region]) -> Progress:
    """Go back to a beginning, in these regions."""
    return replace(beginning, regions=regions, proofs=[], settled={})


def start(case: ShareOutCase, pairs: Pairs, what: Measure, watch: Watch) -> Progress:
    """Give the progress before any rule is solved."""
    layout = build(case, pairs, what)
    model = layout.model
    grid = grid_of(model)
    constants = values(case, case.standing, what)
    nothing = np.zeros(grid.columns, dtype=np.int64)
    region = Region(grid, whole_face(grid))
    return Progress(case, pairs, what, watch, layout, constants, [region], nothing)


def grid_of(model: Model) -> IntegerProgram:
    """Put a model into arrays."""
    return flat_grid(model.lengths, (model.index, model.value), model.limits, model.upper)


def curves_of(path: Progress) -> tuple[Curve, ...]:
    """Give rule 1's curve of each variety that has steps."""
    found = []
    for variety, steps in path.layout.steps.items():
        counts, drops = path.measure.losses[variety].reachable()
        columns = np.array([column for column, _ in steps], dtype=np.int64)
        weights = np.array([weight for _, weight in steps], dtype=np.int64)
        found.append(Curve(columns, weights, counts, drops))
    return tuple(found)


def first_rule(path: Progress) -> None:
    """Solve rule 1."""
    curves = curves_of(path)
    if not curves:
        path.proofs.append(Proof(path.constants[0], path.constants[0], by_duals=True))
        return
    region = path.regions[0]
    task = Maximisation(region.grid, curves, "must not be lost", path.watch)
    best = maximise_curves(task, region.face)
    path.x = best.x
    if best.bound > best.value + NOISE:
        path.hold = Hold.VARIETY
    path.proofs.append(_curve_proof(path, best))
    if path.hold is Hold.VARIETY:
        regions = [_held(region, _rows_reached(path))]
    else:
        regions = [
            _held(replace(region, face=one.face), _rows_between(path, one)) for one in best.faces
        ]
    _settle(path, regions, Rule.MUST_NOT_BE_LOST)


def _curve_proof(path: Progress, best: CurveMaximum) -> Proof:
    """Give the proof of rule 1, in millionths; a bound within the error of rounding counts as reached."""
    apart = settled_drop(path.measure.losses, path.layout.steps)
    value = (best.value + apart) // TOLD
    reached = best.bound <= best.value + NOISE
    bound = value if reached else (best.bound + apart) // TOLD
    varieties = list(path.layout.steps)
    tree = [
        {
            **leaf_values(Leaf(leaf.path, 1, leaf.duals, leaf.bound)),
            "slopes": [list(one) for one in zip(varieties, leaf.slopes, strict=True)],
        }
        for leaf in best.leaves
    ]
    return Proof(value, bound, by_duals=reached, trees=[tree], hold=path.hold.value)


def _rows_between(path: Progress, face: CurveFace) -> tuple[Row, ...]:
    """Hold each variety's count between the points where its line touches its curve, where it could leave them."""
    rows: list[Row] = []
    for steps, (least, most) in zip(path.layout.steps.values(), face.touching, strict=True):
        lowest = sum(weight * int(face.face.lower[column]) for column, weight in steps)
        highest = sum(weight * int(face.face.upper[column]) for column, weight in steps)
        if lowest < least:
            rows.append(([(column, -weight) for column, weight in steps], -least))
        if highest > most:
            rows.append((list(steps), most))
    return tuple(rows)


def _rows_reached(path: Progress) -> tuple[Row, ...]:
    """Hold each variety at what rule 1 reached."""
    return tuple(
        (
            [(column, -weight) for column, weight in steps],
            -sum(weight * int(path.x[column]) for column, weight in steps),
        )
        for steps in path.layout.steps.values()
    )


def _held(region: Region, more: tuple[Row, ...]) -> Region:
    """Add rows to a region."""
    if not more:
        return region
    grid = longer(region.grid, [entries for entries, _ in more], [limit for _, limit in more])
    open_rows = np.zeros(len(more), dtype=bool)
    face = replace(region.face, equal=np.concatenate((region.face.equal, open_rows)))
    return Region(grid, face, (*region.more, *more))


def next_rule(path: Progress, rule: int) -> None:
    """Solve one of rules 2 to 4 in every region, and keep the regions that reach the best."""
    stage, aim = STAGES[rule], path.layout.model.aims[rule]
    constant = path.constants[rule - 1]
    cost = cost_array(path.regions[0].grid, aim)
    # First plants are found faster than their programme is made smaller.
    what = Aim(stage, cost, path.watch, plain=rule == Rule.ONE_EACH)
    found = [maximise(region.grid, region.face, what) for region in path.regions]
    solved = [(one.value, -number) for number, one in enumerate(found) if one.x is not None]
    if not solved:
        raise SolverFailed(f"{stage}: there is no answer")
    value, where = max(solved)
    best = found[-where].x
    if best is not None:
        path.x = best
    bound = max(value, *(one.bound for one in found))
    # Held variety by variety, rule 1 may hide better answers, and then duals prove nothing.
    proven = bound == value and path.hold is not Hold.VARIETY
    trees: list[list[dict[str, object]] | None] = [tree_values(one.leaves) for one in found]
    path.proofs.append(
        Proof(value + constant, bound + constant, proven, trees, hold=path.hold.value)
    )
    regions = [
        replace(region, face=face)
        for region, one in zip(path.regions, found, strict=True)
        for face in faces_of(region.grid, region.face, cost, one, value)
    ]
    _settle(path, regions, Rule(rule))


def _settle(path: Progress, regions: list[Region], rule: Rule) -> None:
    """Take over the regions and note the claims a rule settles: those with no column free any more."""
    path.regions = regions
    lower = np.min([region.face.lower for region in regions], axis=0)
    upper = np.max([region.face.upper for region in regions], axis=0)
    claims = path.pairs.claim
    free = (lower < upper)[: len(claims)]
    for claim in np.setdiff1d(claims, claims[free]).tolist():
        path.settled.setdefault(claim, rule)


def losses_now(path: Progress) -> int:
    """Give rule 1's value of the latest answer, by plain arithmetic [1e-12]."""
    received: defaultdict[int, dict[int, int]] = defaultdict(dict)
    for variety, loss in path.measure.losses.items():
        received[variety].update(loss.standing)
    given = np.flatnonzero(path.x[: path.pairs.count])
    found = (path.pairs.variety[given], path.pairs.claim[given], path.x[given])
    for variety, claim, count in zip(*(one.tolist() for one in found), strict=True):
        places = received[variety]
        place = path.case.claims[claim].place_id
        places[place] = places.get(place, 0) + count
    return _dropped(path.measure, received)


def _dropped(measure: Measure, received: Mapping[int, Mapping[int, int]]) -> int:
    """Add up the drops of all varieties [1e-12]."""
    return sum(loss.drop(loss.total(received[variety])) for variety, loss in measure.losses.items())
