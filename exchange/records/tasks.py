"""Tasks: claimed by one worker, watched and cancelled from a page."""

from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import or_, select, update

from exchange.records.columns import reader
from exchange.records.rows.running import TaskRow, TaskState
from exchange.records.tables import TaskTable
from exchange.records.transaction import Tx

_read = reader(TaskRow)
SILENT_AFTER = timedelta(minutes=5)


def claim(tx: Tx, now: datetime, task_id: int | None = None) -> TaskRow | None:
    """Take the oldest waiting task, or one whose worker has died; None when there is none."""
    silent = TaskTable.seen_at < now - SILENT_AFTER
    ready = or_(
        TaskTable.state == TaskState.WAITING, (TaskTable.state == TaskState.RUNNING) & silent
    )
    query = select(TaskTable.id).where(ready).order_by(TaskTable.id).limit(1)
    if task_id is not None:
        query = query.where(TaskTable.id == task_id)
    chosen = tx._session.scalars(query.with_for_update(skip_locked=True)).one_or_none()
    if chosen is None:
        return None
    taken = tx._session.execute(
        update(TaskTable)
        .where(TaskTable.id == chosen, ready)
        .values(state=TaskState.RUNNING, claimed_at=now, seen_at=now)
        .returning(TaskTable.id)
        .execution_options(synchronize_session="fetch")
    ).one_or_none()
    return None if taken is None else _read(tx._session.get_one(TaskTable, chosen))


def report(tx: Tx, task_id: int, stage: str, progress: float, now: datetime) -> bool:
    """Keep how far a task has come; True asks the worker to stop."""
    row = tx._session.get_one(TaskTable, task_id)
    row.stage, row.progress, row.seen_at = stage, min(1.0, max(0.0, progress)), now
    return row.cancel


def end(
    tx: Tx,
    task_id: int,
    state: TaskState,
    now: datetime,
    *,
    error: str = "",
    result: dict[str, Any] | None = None,
) -> None:
    row = tx._session.get_one(TaskTable, task_id)
    row.state, row.ended_at, row.error, row.result = state, now, error, result
    if state == TaskState.DONE:
        row.progress = 1.0


def cancel(tx: Tx, circle_id: int, task_id: int, now: datetime) -> None:
    """Ask a running task to stop; a waiting one is over at once."""
    row = tx._session.scalars(
        select(TaskTable).where(TaskTable.id == task_id, TaskTable.circle_id == circle_id)
    ).one()
    row.cancel = True
    if row.state == TaskState.WAITING:
        row.state, row.ended_at = TaskState.CANCELLED, now
