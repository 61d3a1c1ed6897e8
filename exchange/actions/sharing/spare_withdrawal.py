"""Spares that leave the list and come back: withdrawn, put back, released by the organiser."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.sharing.set_aside import set_aside, take_back
from exchange.actions.sharing.spares import SparePromisedError, own_spare
from exchange.domain.permissions import Permission
from exchange.records import SPARES, VARIETIES


def withdraw_spare(actor: Actor, spare_id: int, now: datetime) -> None:
    """Take a spare off the list; what a share-out has promised must be answered first."""
    with actor.books.writing() as tx:
        spare = own_spare(tx, actor, spare_id)
        if spare.set_aside_for is not None:
            take_back(tx, actor, spare, now)
            spare = SPARES.get(tx, actor.circle_id, spare_id)
        if spare.allocated:
            raise SparePromisedError(
                f"{spare.allocated} of these are promised. Say no to those plants first."
            )
        if spare.withdrawn_at is None:
            SPARES.change(tx, actor.circle_id, spare_id, withdrawn_at=now)
            note(tx, actor, "withdrew a spare", f"spare {spare_id}", now)


def put_back(actor: Actor, spare_id: int, now: datetime) -> None:
    """Undo a withdrawal; what was set aside is set aside again."""
    with actor.books.writing() as tx:
        spare = own_spare(tx, actor, spare_id)
        if spare.withdrawn_at is None:
            return
        SPARES.change(tx, actor.circle_id, spare_id, withdrawn_at=None)
        if spare.set_aside_for is not None:
            set_aside(tx, actor, spare_id, spare.set_aside_for, now)
        note(tx, actor, "listed a spare again", f"spare {spare_id}", now)


def release_held(actor: Actor, spare_id: int, now: datetime) -> None:
    """Release a held spare, after the organiser has asked the authority."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        SPARES.change(tx, actor.circle_id, spare_id, held=False)
        note(tx, actor, "let a held spare go", f"spare {spare_id}", now)


def hold_spare_again(actor: Actor, spare_id: int, now: datetime) -> None:
    """Undo the release of a spare to which breeders' rights may apply.

    Raises
    ------
    SparePromisedError
        When plants of it have been promised since.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        spare = SPARES.get(tx, actor.circle_id, spare_id)
        if spare.allocated:
            raise SparePromisedError(
                f"{spare.allocated} of these were promised since it was let go; say no to those first."
            )
        if VARIETIES.get(tx, actor.circle_id, spare.variety_id).protected and not spare.held:
            SPARES.change(tx, actor.circle_id, spare_id, held=True)
            note(tx, actor, "held a spare again", f"spare {spare_id}", now)
