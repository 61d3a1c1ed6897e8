"""Tasks: long acts asked for by a member, done by the worker, watched and stopped from a page."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from exchange.actions.kernel.actor import Actor, House, clock_actor, now_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.optimise.programme import Stopped
from exchange.domain.permissions import Permission
from exchange.records import TASKS, Tx, circles, tasks
from exchange.records.rows.running import TaskRow, TaskState
from exchange.words.kernel.tasks import solver_words

WRITE_EVERY = timedelta(seconds=0.25)
"""How often at most progress is written down [s]."""


class StoppedError(Exception):
    """The work ended because somebody asked it to stop."""


@dataclass
class Watch:
    """Tells how far a task has come, and hears when it is asked to stop."""

    house: House
    task_id: int
    clock: Callable[[], datetime]
    stop: bool = False
    progress: float = 0.0
    _stage: str = ""
    _written_at: datetime | None = field(default=None, repr=False)

    def __call__(self, stage: str, progress: float) -> bool:
        """Write down stage and share done [0 to 1]; True means that the work should stop."""
        now = self.clock()
        self.progress = progress
        silent = self._written_at is None or now - self._written_at >= WRITE_EVERY
        # Figures change many times a second, and are no stage of their own.
        if silent or stage.split(",", maxsplit=1)[0] != self._stage.split(",")[0]:
            with self.house.books.writing() as tx:
                self.stop = tasks.report(tx, self.task_id, stage, progress, now) or self.stop
            self._stage, self._written_at = stage, now
        return self.stop

    def solver(self, stage: str, value: float | None, bound: float | None) -> bool:
        """Give a watch for the solver, which tells value against bound but no share done."""
        return self(solver_words(stage, value, bound), self.progress)

    def go_on(self, stage: str, progress: float) -> None:
        """Do the same, and end the work at once when it is asked to stop."""
        if self(stage, progress):
            raise StoppedError


Work = Callable[[Actor, int, Watch, datetime], Mapping[str, Any] | None]
"""One kind of work: the clock's actor in the task's circle, the subject's id, the watch, the
circle's now. What it returns is kept as the task's result."""


def ask(tx: Tx, actor: Actor, kind: str, subject_id: int | None, now: datetime) -> int:
    """Ask for a task, within the act that needs it; if the same one is waiting, give that.

    The act checks the permission. The worker is woken once the act is committed.
    """
    waiting = TASKS.find(
        tx,
        actor.circle_id,
        kind=kind,
        subject_id=subject_id,
        state={TaskState.WAITING},
        cancel=False,
    )
    tx.after(actor.house.wake)
    if waiting:
        return waiting.id
    return TASKS.add(
        tx,
        actor.circle_id,
        kind=kind,
        subject_id=subject_id,
        asked_by=actor.member_id,
        asked_at=now,
    )


def task_of(actor: Actor, task_id: int) -> TaskRow:
    """Give a task of the circle, for its page."""
    _may_watch(actor)
    with actor.books.reading() as tx:
        return TASKS.get(tx, actor.circle_id, task_id)


def cancel_task(actor: Actor, task_id: int, now: datetime) -> None:
    """Ask a task to stop."""
    _may_watch(actor)
    with actor.books.writing() as tx:
        task = TASKS.get(tx, actor.circle_id, task_id)
        if task.under_way:
            tasks.cancel(tx, actor.circle_id, task_id, now)


def _may_watch(actor: Actor) -> None:
    actor.must(Permission.RUN_CIRCLE)


def run_one(
    house: House,
    kinds: Mapping[str, Work],
    clock: Callable[[], datetime],
    task_id: int | None = None,
) -> bool:
    """Do the oldest waiting task, or one whose worker died; False when there was none.

    Parameters
    ----------
    kinds : the work of each kind
    clock : the machine's clock
    task_id : one particular task, or None for the oldest
    """
    with house.books.writing() as tx:
        task = tasks.claim(tx, clock(), task_id)
        circle = circles.get(tx, task.circle_id) if task else None
    if task is None or circle is None:
        return False
    watch = Watch(house, task.id, clock)
    actor = clock_actor(house, circle.id)
    state, error, result = TaskState.DONE, "", None
    try:
        watch.go_on("", 0.0)
        made = _work(kinds, task.kind)(
            actor, task.subject_id or 0, watch, now_of(house, circle, clock())
        )
        result = dict(made) if made is not None else None
    except (StoppedError, Stopped):
        state = TaskState.CANCELLED
    except RefusedError as refused:
        state, error = TaskState.FAILED, str(refused)
    except Exception:
        _end(
            house,
            task,
            clock,
            TaskState.FAILED,
            error="Something went wrong here; ask again later.",
        )
        raise
    _end(house, task, clock, state, error=error, result=result)
    return True


def _work(kinds: Mapping[str, Work], kind: str) -> Work:
    if kind not in kinds:
        raise RefusedError(f"This version does not know the task “{kind}”.")
    return kinds[kind]


def _end(
    house: House,
    task: TaskRow,
    clock: Callable[[], datetime],
    state: TaskState,
    *,
    error: str,
    result: dict[str, Any] | None = None,
) -> None:
    with house.books.writing() as tx:
        tasks.end(tx, task.id, state, clock(), error=error, result=result)
