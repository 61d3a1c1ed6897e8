"""A linear programme to maximise, and the solver's answer to it."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Watch = Callable[[str, float | None, float | None], bool]
"""Called with stage, value and bound while a solver works; True asks it to stop."""


def never_stop(_stage: str, _value: float | None, _bound: float | None) -> bool:
    """Watch without ever stopping."""
    return False


class Stopped(Exception):
    """The person watching asked to stop; nothing was decided."""


class SolverFailed(RuntimeError):
    """The solver gave no usable answer."""


@dataclass(frozen=True, slots=True)
class Programme:
    """Maximise cost . x with rows A x <= limits (or =), lower <= x <= upper.

    Attributes
    ----------
    starts, index, value : A row by row, as in compressed sparse rows
    equal : rows that must hold with equality
    """

    cost: Floats
    lower: Floats
    upper: Floats
    starts: Ints
    index: Ints
    value: Floats
    limits: Floats
    equal: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Solution:
    """What the solver says.

    Attributes
    ----------
    x : the columns
    duals : of each row, for a linear programme; empty for an integer one
    value : cost . x, recomputed here
    bound : the solver's bound on any value
    optimal : whether the solver claims the best
    """

    x: Floats
    duals: Floats
    value: float
    bound: float
    optimal: bool
