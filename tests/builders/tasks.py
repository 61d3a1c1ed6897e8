"""Tasks asked for as an act would, in a transaction of their own, and done as the worker would."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.tasks import ask, run_one
from exchange.jobs.kinds import KINDS
from exchange.records import TASKS
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW


def asked_for(actor: Actor, kind: str, subject_id: int | None = None, now: datetime = NOW) -> int:
    """Ask for a task and give its id."""
    with actor.books.writing() as tx:
        return ask(tx, actor, kind, subject_id, now)


def waiting(actor: Actor, kind: str) -> list[int | None]:
    """Give the subjects of the tasks of a kind that wait, the oldest first."""
    with actor.books.reading() as tx:
        found = TASKS.all(tx, actor.circle_id, kind=kind, state=TaskState.WAITING)
    return [one.subject_id for one in sorted(found, key=lambda one: one.id)]


def offer_to_reserve(actor: Actor, now: datetime = NOW) -> int:
    """Let the worker offer to the reserve what came free, and give how many plants were given."""
    with actor.books.reading() as tx:
        tasks = TASKS.all(tx, actor.circle_id, kind="reserve", state=TaskState.WAITING)
    for one in sorted(tasks, key=lambda one: one.id):
        assert run_one(actor.house, KINDS, lambda: now, one.id)
    with actor.books.reading() as tx:
        ended = TASKS.all(tx, actor.circle_id, id={one.id for one in tasks})
    assert all(one.state == TaskState.DONE for one in ended)
    return sum(one.result["given"] for one in ended)
