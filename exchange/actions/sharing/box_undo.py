"""One undo for a whole box: its spares off the list, its wishes withdrawn, all or none."""

from collections.abc import Sequence
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.sharing.box_members import acting_for_household
from exchange.actions.sharing.claims import withdraw_within
from exchange.actions.sharing.spares import SparePromisedError, own_spare
from exchange.records import CLAIMS, SPARES


def take_box_back(
    actor: Actor, spare_ids: Sequence[int], claim_ids: Sequence[int], now: datetime
) -> None:
    """Take back what a box has kept; what was taken back since stays so, and new names stay.

    Raises
    ------
    SparePromisedError, ClaimMetError
        Where a share-out has used one of them meanwhile; then nothing is taken back.
    """
    with actor.books.writing() as tx:
        for spare_id in spare_ids:
            owner = SPARES.get(tx, actor.circle_id, spare_id).household_id
            spare = own_spare(tx, acting_for_household(tx, actor, owner), spare_id)
            if spare.allocated:
                raise SparePromisedError(
                    "Some of these are promised already, so the whole cannot be undone. Take spares off one by one."
                )
            if spare.withdrawn_at is None:
                SPARES.change(tx, actor.circle_id, spare.id, withdrawn_at=now)
        for claim_id in claim_ids:
            owner = CLAIMS.get(tx, actor.circle_id, claim_id).household_id
            withdraw_within(tx, acting_for_household(tx, actor, owner), claim_id, now)
        what = f"{len(spare_ids)} spares, {len(claim_ids)} wishes"
        note(tx, actor, "took a box back", what, now)
