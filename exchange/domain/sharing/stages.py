"""Rules 1 to 4 one after another, each on the face of best answers that the one before has left.

Where a rule had to be branched, its value is held by a row instead, so that no best answer is lost on the way.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from exchange.domain.optimise.branch import Maximum, maximise, proven_face
from exchange.domain.optimise.grid import (
    Face,
    IntegerProgram,
    cost_array,
    flat_grid,
    longer,
    whole_face,
)
from exchange.domain.optimise.programme import Aim, Ints, Watch
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.model import Layout, Model, build
from exchange.domain.sharing.outcome import NAMES
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.proof import Proof, tree_values
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.rules import values

STAGES = (Rule.MUST_NOT_BE_LOST, Rule.ONE_EACH, Rule.FAIR, Rule.WISHES)
"""The rules that are solved by the same steps."""

Row = tuple[list[tuple[int, int]], int]


@dataclass(slots=True)
class Progress:
    """The way through rules 1 to 4 so far.

    Attributes
    ----------
    constants : what stands counts under each rule
    face, more : where the best answers lie: limits of columns, and rows beyond those of the model
    x : one of the best answers so far
    settled : by claim index, the rule that left it no freedom
    """

    case: ShareOutCase
    pairs: Pairs
    measure: Measure
    watch: Watch
    layout: Layout
    constants: tuple[int, ...]
    grid: IntegerProgram
    face: Face
    x: Ints
    more: tuple[Row, ...] = ()
    proofs: list[Proof] = field(default_factory=list)
    settled: dict[int, Rule] = field(default_factory=dict)

    def hold(self, row: Row) -> None:
        """Add a row."""
        entries, limit = row
        self.grid = longer(self.grid, [entries], [limit])
        self.face = replace(self.face, equal=np.append(self.face.equal, False))
        self.more = (*self.more, row)


def start(case: ShareOutCase, pairs: Pairs, what: Measure, watch: Watch) -> Progress:
    """Give the progress before any rule is solved."""
    layout = build(case, pairs, what)
    grid = grid_of(layout.model)
    constants = values(case, case.standing, what)
    nothing = np.zeros(grid.columns, dtype=np.int64)
    return Progress(case, pairs, what, watch, layout, constants, grid, whole_face(grid), nothing)


def grid_of(model: Model) -> IntegerProgram:
    """Put a model into arrays."""
    return flat_grid(model.lengths, (model.index, model.value), model.limits, model.upper)


def afresh(beginning: Progress) -> Progress:
    """Go back to a beginning, and leave it as it is."""
    return replace(beginning, proofs=[], settled={})


def four_rules(beginning: Progress) -> Progress:
    """Solve rules 1 to 4, and leave the beginning as it is.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    path = afresh(beginning)
    for rule in STAGES:
        next_rule(path, rule)
    return path


def forced_start(beginning: Progress, claim: int, plants: int) -> Progress | None:
    """Force one claim (by index) to so many plants from the beginning; None when no spare could serve it."""
    case = beginning.case
    columns = np.flatnonzero(beginning.pairs.claim == claim).tolist()
    stands = sum(one.count for one in case.standing if one.claim_id == case.claims[claim].id)
    if not columns:
        return None
    path = afresh(beginning)
    path.hold(([(column, -1) for column in columns], stands - plants))
    return path


def next_rule(path: Progress, rule: Rule) -> None:
    """Solve one of rules 1 to 4, and keep its best answers.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when there is no answer, which can only be where a claim is forced
    """
    constant = path.constants[rule - 1]
    cost = cost_array(path.grid, path.layout.model.aims[rule])
    # First plants are found faster than their programme is made smaller.
    plain = rule is Rule.ONE_EACH
    what = Aim(NAMES[rule - 1], cost, path.watch, plain=plain)
    best = maximise(path.grid, path.face, what)
    path.x = best.x
    value, bound = best.value + constant, best.bound + constant
    path.proofs.append(Proof(value, bound, best.proven, tree_values(best.leaves)))
    _keep(path, cost, best)
    claims = path.pairs.claim
    free = (path.face.lower < path.face.upper)[: len(claims)]
    for claim in np.setdiff1d(claims, claims[free]).tolist():
        path.settled.setdefault(claim, rule)


def _keep(path: Progress, cost: Ints, best: Maximum) -> None:
    """Keep the answers of the best value: on one leaf's face, else by a row."""
    face = proven_face(path.grid, path.face, cost, best)
    if face is not None:
        path.face = face
    else:
        columns = np.flatnonzero(cost)
        entries = list(zip(columns.tolist(), (-cost[columns]).tolist(), strict=True))
        path.hold((entries, -best.value))
