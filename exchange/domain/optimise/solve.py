"""The one place that calls the solver.

Every solve starts cold, on one thread, and takes the same path each time; limits count branches and calls, never time. No
solution is ever given to the solver to start from: HiGHS 1.16.0 then sometimes returns a wrong x with the right value.
"""

import weakref
from collections.abc import Mapping

import highspy
import numpy as np
from highspy import cb

from exchange.domain.optimise.grid import Face, IntegerProgram
from exchange.domain.optimise.programme import Aim, Floats, Solution, SolverFailed, Stopped

GAP_OF_WHOLE_NUMBERS = 0.999
"""Values are whole numbers, so a bound less than one away proves the best."""

NEAR_ENOUGH = 1e-3
"""The relative gap at which an interior point is near enough."""

LONGEST_PROBED = 60_000
"""Above this many columns the solver's presolve does not probe: it would hear nobody for seconds [columns]."""

PROBING = (1 << 15) | (1 << 16)
"""The solver's numbers of the presolve rules that try out numbers of single columns and of short rows."""

EVERY = 64
"""The watcher is asked once in this many steps of the simplex method [steps]."""

ASKED_FROM = 3000
"""Up to this many columns a linear programme is over before anybody could stop it [columns]."""

INTERRUPTS = (
    cb.HighsCallbackType.kCallbackMipInterrupt,
    cb.HighsCallbackType.kCallbackSimplexInterrupt,
    cb.HighsCallbackType.kCallbackIpmInterrupt,
)

Options = Mapping[str, str | int | float]

ALWAYS: Options = {
    "threads": 1,
    "random_seed": 0,
    "presolve": "on",
    "solver": "simplex",
    "simplex_strategy": 1,
    "simplex_scale_strategy": 0,
    "mip_rel_gap": 0.0,
    "mip_abs_gap": GAP_OF_WHOLE_NUMBERS,
}
INSIDE: Options = {
    "solver": "ipm",
    "run_crossover": "off",
    "ipm_optimality_tolerance": NEAR_ENOUGH,
}
"""Options of an interior point without crossover."""


class _Quiet(highspy.Highs):
    """The solver without its banner, which would be printed among the terminal's answers."""

    def __init__(self) -> None:
        """Make a solver."""
        super().__init__()  # type: ignore[no-untyped-call] # highspy types its methods in part

    def enableCallbacks(self) -> None:  # noqa: N802 - highspy's own name, called while it is made
        """Turn output off before anything can be printed; `_Run` receives the solver's messages."""
        self.setOptionValue("output_flag", False)


def solver_version() -> str:
    """Give the solver's name and version."""
    solver = _Quiet()
    return f"HiGHS {solver.versionMajor()}.{solver.versionMinor()}.{solver.versionPatch()}"


class _Run:
    """The solver with one programme, reporting its progress to the watcher, and passing on its request to stop.

    Attributes
    ----------
    most : how often it may be asked before the search is left [calls]
    """

    def __init__(
        self,
        grid: IntegerProgram,
        face: Face,
        aim: Aim,
        options: Options,
        *,
        most: int | None = None,
        whole: bool = False,
    ) -> None:
        self.aim, self.most = aim, most
        self.steps = self.asked = 0
        self.stopped = False
        self.ask()
        self.solver = _Quiet()
        for name, value in {**ALWAYS, **options}.items():
            self.solver.setOptionValue(name, value)
        self._pass(grid, face, whole)
        # What is registered after callbacks have been started is never called.
        # The solver's own half keeps what it calls, unseen by the collector: a method of ours kept
        # there would keep the solver too, for ever.
        told = weakref.WeakMethod(self._told)

        def tell(
            kind: cb.HighsCallbackType,
            message: str,
            out: cb.HighsCallbackOutput,
            back: cb.HighsCallbackInput | None,
            of_ours: object,
        ) -> None:
            listener = told()
            if listener is not None:
                listener(kind, message, out, back, of_ours)

        self.solver.setCallback(tell, None)
        on_the_way = grid.columns > ASKED_FROM or "run_crossover" in options
        for kind in INTERRUPTS if on_the_way else INTERRUPTS[:1]:
            self.solver.startCallback(kind)

    def ask(self) -> None:
        """Ask the watcher whether to go on."""
        if self.aim.watch(self.aim.stage, None, None):
            raise Stopped(self.aim.stage)

    def go(self) -> highspy.HighsModelStatus:
        """Solve."""
        self.solver.run()
        if self.stopped:
            raise Stopped(self.aim.stage)
        return self.solver.getModelStatus()

    def failed(self) -> SolverFailed:
        """Give the error that says what became of it."""
        status = self.solver.modelStatusToString(self.solver.getModelStatus())
        return SolverFailed(f"{self.aim.stage}: {status}")

    def linear(self, *, optimal: bool) -> Solution:
        """Give the answer of a linear programme."""
        solution = self.solver.getSolution()
        x = np.array(solution.col_value, dtype=np.float64)
        if len(x) != len(self.aim.cost):
            raise self.failed()
        # The solver minimises; its row duals change sign when maximising.
        duals = -np.array(solution.row_dual, dtype=np.float64)
        value = float(self.aim.cost @ x)
        return Solution(x, duals, value, value, optimal)

    def _pass(self, grid: IntegerProgram, face: Face, whole: bool) -> None:
        """Hand the programme over in the solver's own form, which minimises."""
        kind = highspy.HighsVarType.kInteger if whole else highspy.HighsVarType.kContinuous
        limits = grid.limits.astype(np.float64)
        self.solver.passModel(
            grid.columns,
            len(limits),
            len(grid.index),
            int(highspy.MatrixFormat.kRowwise),
            int(highspy.ObjSense.kMinimize),
            0.0,
            -self.aim.cost.astype(np.float64),
            face.lower.astype(np.float64),
            face.upper.astype(np.float64),
            np.where(face.equal, limits, -highspy.kHighsInf),
            limits,
            grid.starts.astype(np.int32),
            grid.index.astype(np.int32),
            grid.value.astype(np.float64),
            np.full(grid.columns, int(kind), dtype=np.int32),
        )

    def _told(
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
        self.stopped = self.stopped or self.aim.watch(self.aim.stage, value, bound)
        enough = self.most is not None and self.asked > self.most
        if back is not None and (self.stopped or enough):
            back.user_interrupt = True


def _known(figure: float) -> float | None:
    """Give a figure the solver has, None while it has none."""
    return figure if np.isfinite(figure) else None


def solve_linear(grid: IntegerProgram, face: Face, aim: Aim) -> Solution:
    """Solve as a linear programme by dual simplex, as a rule after presolve.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver does not reach the best
    """
    # Undoing presolve can leave tiny infeasibilities; a solve without presolve leaves none.
    for presolve in ("off",) if aim.plain else ("on", "off"):
        run = _Run(grid, face, aim, {"presolve": presolve})
        status = run.go()
        if status != highspy.HighsModelStatus.kUnknown:
            break
    if status not in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kModelEmpty):
        raise run.failed()
    return run.linear(optimal=True)


def dual_ray(grid: IntegerProgram, face: Face, aim: Aim) -> Floats:
    """Give row numbers by which the solver shows that a linear programme has no answer; zeros where it gives none.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    run = _Run(grid, face, aim, {"presolve": "off"})
    run.go()
    _, known, ray = run.solver.getDualRay()  # type: ignore[attr-defined] # highspy's types leave it out
    return -np.array(ray, dtype=np.float64) if known else np.zeros(len(grid.limits))


def solve_whole(
    grid: IntegerProgram, face: Face, aim: Aim, nodes: int, most_asked: int | None = None
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
    if not grid.columns:
        return Solution(np.empty(0), np.empty(0), 0.0, 0.0, optimal=True)
    # HiGHS 1.16.0 sometimes calls a feasible programme infeasible, and only after presolve.
    for presolve in ("on", "off"):
        options: Options = {"presolve": presolve, "mip_max_nodes": nodes}
        run = _Run(grid, face, aim, options, most=most_asked, whole=True)
        status = run.go()
        if status != highspy.HighsModelStatus.kInfeasible:
            break
    info = run.solver.getInfo()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        raise run.failed()
    x = np.array(run.solver.getSolution().col_value, dtype=np.float64)
    optimal = status == highspy.HighsModelStatus.kOptimal
    bound = -float(info.mip_dual_bound)
    return Solution(x, np.empty(0), float(aim.cost @ x), bound, optimal)


def solve_interior(grid: IntegerProgram, face: Face, aim: Aim) -> Solution:
    """Solve a linear programme by an interior point, near enough for a bound; its duals prove what arithmetic says of them.

    Raises
    ------
    Stopped
        when the watcher asks for it
    SolverFailed
        when the solver has no point at all
    """
    run = _Run(grid, face, aim, INSIDE)
    run.go()
    return run.linear(optimal=False)


def presolved(grid: IntegerProgram, face: Face, aim: Aim, small: int) -> tuple[int, float]:
    """Make a whole-number programme small; give the columns left, and, if more than are small, a bound on answers.

    The bound is that of what is left, by an interior point. Presolve draws limits in by trying numbers, which no bound by duals of the rows
    alone comes near. No answer is looked for, since the solver is deaf for seconds while it does.

    Raises
    ------
    Stopped
        when the watcher asks for it
    """
    options = {**INSIDE, "presolve_rule_off": PROBING if grid.columns > LONGEST_PROBED else 0}
    run = _Run(grid, face, aim, options, whole=True)
    run.solver.presolve()
    left = run.solver.getPresolvedLp()
    reduced = run.solver.getModelPresolveStatus() == highspy.HighsPresolveStatus.kReduced
    columns = int(left.num_col_)
    if not reduced or columns <= small:
        return columns, np.inf
    run.ask()
    left.integrality_ = []
    run.solver.clearModel()
    run.solver.passModel(left)
    run.solver.setOptionValue("presolve", "off")
    run.go()
    return columns, -_bound_by(left, np.array(run.solver.getSolution().row_dual))


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
