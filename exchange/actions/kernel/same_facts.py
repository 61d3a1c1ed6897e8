"""Acts that look and reckon without the write lock, and record only where the facts are still those they read."""

from collections.abc import Callable
from typing import TypeVar

from exchange.actions.kernel.actor import Actor, circle_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.records import Tx

Found = TypeVar("Found")
Result = TypeVar("Result")

TRIES = 30
"""How often an act looks again because somebody else was quicker; each time somebody else got on (judgement)."""


class KeepsChangingError(RefusedError):
    """Others changed the circle each time before it could be recorded."""


def on_same_facts(
    actor: Actor, look: Callable[[Tx], Found], record: Callable[[Tx, Found], Result]
) -> Result:
    """Look in a transaction that only reads, then record in one that writes, if the circle's facts are the same.

    While it looks, nobody waits for it. What `look` refuses is refused without the write lock.

    Parameters
    ----------
    look : checks and works out; what it gives goes to `record`
    record : keeps it; what it gives is given

    Raises
    ------
    KeepsChangingError
        When the facts were changed each time meanwhile.
    """
    for _try in range(TRIES):
        with actor.books.reading() as tx:
            stamp = circle_of(actor, tx).stamp
            found = look(tx)
        with actor.books.writing() as tx:
            if circle_of(actor, tx).stamp == stamp:
                return record(tx, found)
    raise KeepsChangingError(
        "Others are changing the circle just now, so nothing was done. Press again."
    )
