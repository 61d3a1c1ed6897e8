"""Watch a search and end it when its bound is near enough, or when it has gone on for long.

Its length is measured by the solver's calls, never by a clock, so that the same circle always ends the same way.
"""

from dataclasses import dataclass

from exchange.domain.optimise.programme import Programme, Solution, SolverFailed, Stopped, Watch
from exchange.domain.optimise.solve import solve_whole


@dataclass(slots=True)
class SearchLimit:
    """Ends a search that has come far enough.

    Attributes
    ----------
    watch : who watches, and may stop everything
    value : what an answer that is known counts, None without one
    gap : how near the bound is to come to it
    most_asked : how often the solver may ask
    bound : the best bound told so far
    """

    watch: Watch
    value: int | None
    gap: float
    most_asked: int
    bound: float | None = None
    asked: int = 0
    stopped: bool = False

    def __call__(self, stage: str, value: float | None, bound: float | None) -> bool:
        """Take a report of how far the search is; say whether it may end."""
        self.asked += 1
        if bound is not None:
            self.bound = bound if self.bound is None else min(self.bound, bound)
        best = max((one for one in (self.value, value) if one is not None), default=None)
        self.stopped = self.watch(stage, best, self.bound)
        if self.stopped or best is None:
            return self.stopped
        near = self.bound is not None and self.bound - best <= self.gap
        return near or self.asked > self.most_asked

    def whole(self, programme: Programme, stage: str, nodes: int) -> Solution | None:
        """Search in whole numbers; give what was found, None when the search ended before that.

        Raises
        ------
        Stopped
            when the watcher asks for it
        """
        try:
            # The gap is not given to the solver, which would drop branches within it and then
            # report a bound that is too good.
            answer = solve_whole(programme, stage, self, nodes)
        except SolverFailed:
            return None
        except Stopped:
            if self.stopped:
                raise
            return None
        self.bound = answer.bound if self.bound is None else min(self.bound, answer.bound)
        return answer
