"""One choice from each group at the least whole-number cost, under shared limits."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.optimise.grid import make_grid, whole_face
from exchange.domain.optimise.programme import Aim, Watch, never_stop
from exchange.domain.optimise.solve import solve_whole

MOST_BRANCHES = 20_000
"""Branches after which the best answer so far is taken, not proven."""


@dataclass(frozen=True, slots=True)
class Limit:
    """The weights of the chosen columns add up to `most` at the most.

    Attributes
    ----------
    columns : numbers of the columns that count
    weights : whole numbers, one for each column
    """

    columns: tuple[int, ...]
    weights: tuple[int, ...]
    most: int


@dataclass(frozen=True, slots=True)
class Assignment:
    """The columns chosen.

    Attributes
    ----------
    chosen : one column for each group, in the groups' order
    cost : their cost, added up from the answer itself
    bound : the solver's lower bound on it
    proven : whether no cheaper choice exists
    """

    chosen: tuple[int, ...]
    cost: int
    bound: float
    proven: bool


class AssignmentError(RuntimeError):
    """The solver's answer does not hold when added up again."""


def assign(
    groups: Sequence[Sequence[int]],
    costs: Sequence[int],
    limits: Sequence[Limit],
    watch: Watch = never_stop,
) -> Assignment:
    """Choose one column from each group.

    Parameters
    ----------
    groups : numbers of the columns of each group; every column belongs to one
    costs : cost of each column, whole numbers
    watch : told of progress, may stop the solver

    Raises
    ------
    AssignmentError
        when the answer does not hold when added up again
    Stopped, SolverFailed
        as `solve_whole` does
    """
    if not groups:
        return Assignment((), 0, 0.0, proven=True)
    rows = [[(column, 1) for column in group] for group in groups]
    rows += [list(zip(one.columns, one.weights, strict=True)) for one in limits]
    most = [1] * len(groups) + [one.most for one in limits]
    grid = make_grid(rows, most, [1] * len(costs))
    face = replace(whole_face(grid), equal=np.arange(len(rows)) < len(groups))
    aim = Aim("days", -np.array(costs, dtype=np.int64), watch)
    answer = solve_whole(grid, face, aim, MOST_BRANCHES)
    chosen = _read(groups, np.round(answer.x))
    _check(chosen, limits)
    cost = sum(costs[column] for column in chosen)
    if abs(cost + answer.value) > 0.5:
        raise AssignmentError("The solver's cost is not the cost of its answer.")
    return Assignment(chosen, cost, -answer.bound, answer.optimal)


def _read(groups: Sequence[Sequence[int]], values: NDArray[np.float64]) -> tuple[int, ...]:
    chosen = []
    for group in groups:
        taken = [column for column in group if values[column] == 1]
        if len(taken) != 1:
            raise AssignmentError("The solver gave a group no choice, or several.")
        chosen.append(taken[0])
    return tuple(chosen)


def _check(chosen: Sequence[int], limits: Sequence[Limit]) -> None:
    held = set(chosen)
    for limit in limits:
        pairs = zip(limit.columns, limit.weights, strict=True)
        if sum(weight for column, weight in pairs if column in held) > limit.most:
            raise AssignmentError("The solver's answer breaks a limit.")
