"""Tasks asked for as an act would, in a transaction of their own."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.tasks import ask
from tests.app_fixtures import NOW


def asked_for(actor: Actor, kind: str, subject_id: int | None = None, now: datetime = NOW) -> int:
    """Ask for a task and give its id."""
    with actor.books.writing() as tx:
        return ask(tx, actor, kind, subject_id, now)
