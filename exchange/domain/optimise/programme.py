"""What to maximise, who watches, and the solver's answer."""

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
class Aim:
    """What to maximise, and how to go about it.

    Attributes
    ----------
    cost : what each column counts
    plain : the linear programme is so simple that presolve would take longer than solving it
    """

    stage: str
    cost: Ints
    watch: Watch
    node_limit: int = 2000
    plain: bool = False


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
