"""The dealings of a household that leaves: claims, spares and promises end, and its plants leave with it."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.replan import gather
from exchange.actions.sharing.allocation_answers import NoLongerOpenError, end_allocation
from exchange.actions.sharing.reserve import ask_reserve
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, AWAY, BATCHES, CLAIMS, PARCELS, SPARES, Tx
from exchange.records.rows.sharing import AllocationRow


def end_dealings(tx: Tx, actor: Actor, household_id: int, now: datetime) -> None:
    """End what a household asked for, offered and promised; what is on its way is left to come."""
    spares = SPARES.by_id(tx, actor.circle_id, household_id=household_id)
    claims = CLAIMS.by_id(tx, actor.circle_id, household_id=household_id)
    for one in ALLOCATIONS.all(tx, actor.circle_id, claim_id=set(claims), state=STANDING):
        _end(tx, actor, one, AllocationState.DECLINED, now)
    for one in ALLOCATIONS.all(tx, actor.circle_id, spare_id=set(spares), state=STANDING):
        _end(tx, actor, one, AllocationState.FAILED, now)
    for claim in claims.values():
        if claim.withdrawn_at is None:
            CLAIMS.change(tx, actor.circle_id, claim.id, withdrawn_at=now)
    for spare in spares.values():
        if spare.withdrawn_at is None:
            SPARES.change(tx, actor.circle_id, spare.id, withdrawn_at=now)
    for spare in SPARES.all(tx, actor.circle_id, set_aside_for=household_id):
        if not spare.allocated:
            SPARES.change(tx, actor.circle_id, spare.id, set_aside_for=None)
    for batch in BATCHES.all(tx, actor.circle_id, household_id=household_id):
        BATCHES.change(tx, actor.circle_id, batch.id, plants=0)
    for away in AWAY.all(tx, actor.circle_id, household_id=household_id):
        AWAY.remove(tx, actor.circle_id, away.id)
    gather(tx, actor.circle_id, now)
    ask(tx, actor, "plan", None, now)


def on_their_way(tx: Tx, actor: Actor, household_id: int) -> int:
    """Count the parcels to or from a household that were posted and not heard of [parcels]."""
    gone = PARCELS.all(tx, actor.circle_id, state=ParcelState.POSTED)
    return sum(household_id in (one.sender_household_id, one.receiver_household_id) for one in gone)


def _end(tx: Tx, actor: Actor, one: AllocationRow, state: AllocationState, now: datetime) -> None:
    """End what has not gone; a claim of somebody else stays, and asks the reserve."""
    try:
        end_allocation(tx, actor, one, state, now)
    except NoLongerOpenError:
        return
    if one.share_out_id is None:
        CLAIMS.change(tx, actor.circle_id, one.claim_id, withdrawn_at=now)
        return
    ask_reserve(tx, actor, SPARES.get(tx, actor.circle_id, one.spare_id).variety_id, now)
