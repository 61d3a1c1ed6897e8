"""The one place that calls the solver.

Every solve starts cold, on one thread, and takes the same path each time; limits count branches, never time. No solution
is ever given to the solver to start from: HiGHS 1.16.0 then sometimes returns a wrong x with the right value.
"""

import highspy
import numpy as np
from highspy import cb

from exchange.domain.optimise.gather import gathered
from exchange.domain.optimise.programme import (
    Floats,
    Programme,
    Solution,
    SolverFailed,
    Stopped,
    Watch,
)

GAP_OF_WHOLE_NUMBERS = 0.999
"""Values are whole numbers, so a bound less than one away proves the best."""


LONG = 20_000
"""Up to this many columns a linear programme is solved as it is: gathering columns would take longer than it saves [columns]."""

NEAR_ENOUGH = 1e-3
"""The relative gap at which an interior point is near enough."""

LONGEST_PROBED = 60_000
"""Above this many columns the solver's presolve does not probe: it would hear nobody for seconds [columns]."""

PROBING = (1 << 15) | (1 << 16)
"""The solver's numbers of the presolve rules that try out numbers of single columns and of short rows."""

EVERY = 64
"""The watcher is asked once in this many steps of the simplex method [steps]."""


class _Quiet(highspy.Highs):
    """The solver without its banner, which would be printed among the terminal's answers."""

    def __init__(self) -> None:
        """Make a solver."""
        super().__init__()  # type: ignore[no-untyped-call] # highspy types its methods in part

    def enableCallbacks(self) -> None:  # noqa: N802 - highspy's own name, called while it is made
        """Turn output off before anything can be printed; `_Asking` receives the solver's messages."""
        self.setOptionValue("output_flag", False)


INTERRUPTS = (
    cb.HighsCallbackType.kCallbackMipInterrupt,
    cb.HighsCallbackType.kCallbackSimplexInterrupt,
    cb.HighsCallbackType.kCallbackIpmInterrupt,
)

ASKED_FROM = 3000
"""Up to this many columns a linear programme is over before anybody could stop it [columns]."""


class _Asking:
    """Reports the solver's progress to the watcher and passes on its request to stop.

    Attributes
    ----------
    most : how often it may be asked before the search is left [calls]
    stopped : whether the watcher asked to stop
    """

    def __init__(self, stage: str, watch: Watch, most: int | None) -> None:
        self.stage, self.watch, self.most = stage, watch, most
        self.steps = self.asked = 0
        self.stopped = False

    def __call__(
        self,
        kind: cb.HighsCallbackType,
        _message: str,
        out: cb.HighsCallbackOutput,
        back: cb.HighsCallbackInput | None,
        _of_ours: object,
    ) -> None:
        """Take a message from the solver."""
        if kind == cb.HighsCallbackType.kCallbackSimplexInterrupt:
            self.steps += 1
            if self.steps % EVERY:
                return
        value: float | None = None
        bound: float | None = None
        if kind == cb.HighsCallbackType.kCallbackMipInterrupt and self.most is None:
            value, bound = _known(-out.mip_primal_bound), _known(-out.mip_dual_bound)
        self.asked += 1
        self.stopped = self.stopped or self.watch(self.stage, value, bound)
        enough = self.most is not None and self.asked > self.most
        if back is not None and (self.stopped or enough):
            back.user_interrupt = True


def _known(figure: float) -> float | None:
    """Give a figure the solver has, None while it has none."""
    return figure if np.isfinite(figure) else None


def solver_version() -> str:
    """Give the solver's name and version."""
    solver = _Quiet()
    return f"HiGHS {solver.versionMajor()}.{solver.versionMinor()}.{solver.versionPatch()}"


def solve_linear(
    programme: Programme, stage: str, watch: Watch, *, plain: bool = False
) -> Solution:
    """Solve as a linear programme by dual simplex, as a rule after presolve.

    Parameters
    ----------
    plain : the programme is so simple that presolve would take longer than solving it

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver does not reach the best
    """
    count, height = len(programme.cost), len(programme.limits)
    if count == 0:
        return Solution(np.empty(0), np.zeros(height), 0.0, 0.0, optimal=True)
    wide = gathered(programme) if count > LONG and not plain else programme
    solver, _ = _solver(wide, stage, watch)
    if plain:
        solver.setOptionValue("presolve", "off")
    solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kUnknown:
        # Undoing presolve can leave tiny infeasibilities; a solve without presolve leaves none.
        solver, _ = _solver(wide, stage, watch)
        solver.setOptionValue("presolve", "off")
        solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInterrupt:
        raise Stopped(stage)
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise SolverFailed(f"{stage}: {solver.modelStatusToString(solver.getModelStatus())}")
    solution = solver.getSolution()
    x = np.array(solution.col_value, dtype=np.float64)[:count]
    # The solver minimises; its row duals change sign when maximising.
    duals = -np.array(solution.row_dual, dtype=np.float64)[:height]
    value = float(programme.cost @ x)
    return Solution(x, duals, value, value, optimal=True)


def solve_whole(
    programme: Programme,
    stage: str,
    watch: Watch,
    node_limit: int,
    most_asked: int | None = None,
) -> Solution:
    """Solve in whole numbers by branch and bound, up to a number of branches.

    Parameters
    ----------
    most_asked : how often the solver may ask whether to go on before it is left with the best so far; None for any number [calls]

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when no whole-number answer was found
    """
    count = len(programme.cost)
    if count == 0:
        return Solution(np.empty(0), np.empty(0), 0.0, 0.0, optimal=True)
    kinds = np.full(count, highspy.HighsVarType.kInteger)
    # HiGHS 1.16.0 sometimes calls a feasible programme infeasible, and only after presolve.
    for presolve in ("on", "off"):
        solver, asking = _solver(programme, stage, watch, most_asked)
        solver.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
        solver.setOptionValue("presolve", presolve)
        solver.setOptionValue("mip_rel_gap", 0.0)
        solver.setOptionValue("mip_abs_gap", GAP_OF_WHOLE_NUMBERS)
        solver.setOptionValue("mip_max_nodes", node_limit)
        solver.run()
        status = solver.getModelStatus()
        if status != highspy.HighsModelStatus.kInfeasible:
            break
    if asking.stopped:
        raise Stopped(stage)
    info = solver.getInfo()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        raise SolverFailed(f"{stage}: {solver.modelStatusToString(status)}")
    x = np.array(solver.getSolution().col_value, dtype=np.float64)
    value = float(programme.cost @ x)
    optimal = status == highspy.HighsModelStatus.kOptimal
    return Solution(x, np.empty(0), value, -float(info.mip_dual_bound), optimal)


def solve_interior(programme: Programme, stage: str, watch: Watch) -> Solution:
    """Solve a linear programme by an interior point, near enough for a bound; its duals prove what arithmetic says of them.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver has no point at all
    """
    solver, asking = _solver(programme, stage, watch, asked=True)
    _inside(solver)
    solver.run()
    if asking.stopped:
        raise Stopped(stage)
    solution = solver.getSolution()
    x = np.array(solution.col_value, dtype=np.float64)
    duals = -np.array(solution.row_dual, dtype=np.float64)
    if len(x) != len(programme.cost) or len(duals) != len(programme.limits):
        raise SolverFailed(f"{stage}: {solver.modelStatusToString(solver.getModelStatus())}")
    value = float(programme.cost @ x)
    return Solution(x, duals, value, value, optimal=False)


def bound_of_presolved(programme: Programme, stage: str, watch: Watch) -> float:
    """Give a bound on whole-number answers, infinity for none: of what the solver's presolve leaves, by an interior point.

    That presolve draws limits in by trying numbers, which no bound by duals alone comes near. No answer is looked for, since the solver
    is deaf for seconds while it does.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    solver, asking = _solver(programme, stage, watch, asked=True)
    count = len(programme.cost)
    kinds = np.full(count, highspy.HighsVarType.kInteger)
    solver.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
    if count > LONGEST_PROBED:
        solver.setOptionValue("presolve_rule_off", PROBING)
    solver.presolve()
    left, state = solver.getPresolvedLp(), solver.getModelPresolveStatus()
    if state == highspy.HighsPresolveStatus.kReducedToEmpty:
        return -float(left.offset_)
    if state != highspy.HighsPresolveStatus.kReduced:
        return np.inf
    left.integrality_ = []
    if watch(stage, None, None):
        raise Stopped(stage)
    solver.clearModel()
    solver.passModel(left)
    _inside(solver)
    solver.setOptionValue("presolve", "off")
    solver.run()
    if asking.stopped:
        raise Stopped(stage)
    duals = np.array(solver.getSolution().row_dual, dtype=np.float64)
    return -_bound_by(left, duals)


def _inside(solver: highspy.Highs) -> None:
    """Have a linear programme solved by an interior point, and its answer left there."""
    for name, value in (
        ("solver", "ipm"),
        ("run_crossover", "off"),
        ("ipm_optimality_tolerance", NEAR_ENOUGH),
    ):
        solver.setOptionValue(name, value)


def _bound_by(left: highspy.HighsLp, duals: Floats) -> float:
    """Give what duals prove no answer of the solver's own programme to be below; minus infinity where they prove nothing."""
    least, most = np.array(left.row_lower_), np.array(left.row_upper_)
    if len(duals) != len(least):
        return -np.inf
    # A row without a limit on one side has no dual of that sign.
    duals = np.where(np.isfinite(np.where(duals > 0, least, most)), duals, 0.0)
    column = np.repeat(np.arange(left.num_col_), np.diff(left.a_matrix_.start_))
    charge = np.array(left.a_matrix_.value_) * duals[np.array(left.a_matrix_.index_, dtype=int)]
    rest = np.array(left.col_cost_) - np.bincount(column, charge, left.num_col_)
    total = float(left.offset_)
    for each, low, high in (
        (duals, least, most),
        (rest, np.array(left.col_lower_), np.array(left.col_upper_)),
    ):
        used = each != 0
        total += float((each * np.where(each > 0, low, high))[used].sum())
    return total


def _solver(
    programme: Programme,
    stage: str,
    watch: Watch,
    most_asked: int | None = None,
    *,
    asked: bool = False,
) -> tuple[highspy.Highs, _Asking]:
    """Make a fresh solver holding the programme, if the watcher lets it begin.

    Parameters
    ----------
    asked : whether it asks on the way however small the programme is
    """
    if watch(stage, None, None):
        raise Stopped(stage)
    solver = _Quiet()
    for name, value in (
        ("threads", 1),
        ("random_seed", 0),
        ("presolve", "on"),
        ("solver", "simplex"),
        ("simplex_strategy", 1),
        ("simplex_scale_strategy", 0),
    ):
        solver.setOptionValue(name, value)
    _pass(solver, programme)
    asking = _Asking(stage, watch, most_asked)
    # What is registered after callbacks have been started is never called.
    solver.setCallback(asking, None)
    on_the_way = asked or len(programme.cost) > ASKED_FROM
    for kind in INTERRUPTS if on_the_way else INTERRUPTS[:1]:
        solver.startCallback(kind)
    return solver, asking


def _pass(solver: highspy.Highs, programme: Programme) -> None:
    """Hand the programme over in the solver's own form, which minimises."""
    count, height = len(programme.cost), len(programme.limits)
    solver.passModel(
        count,
        height,
        len(programme.index),
        int(highspy.MatrixFormat.kRowwise),
        int(highspy.ObjSense.kMinimize),
        0.0,
        -programme.cost,
        programme.lower,
        programme.upper,
        np.where(programme.equal, programme.limits, -highspy.kHighsInf),
        programme.limits,
        programme.starts.astype(np.int32),
        programme.index.astype(np.int32),
        programme.value,
        np.zeros(count, dtype=np.int32),
    )
