"""Answers after a share-out: the sender's yes or quiet no, and the receiver's no."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.asked_together import asked_together, coming_together
from exchange.actions.sharing.reserve import ask_reserve
from exchange.domain.permissions import Permission, Subject
from exchange.domain.posting.parcel import WITH_SENDER, ParcelState
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, PARCEL_LINES, PARCELS, SPARES, NotHereError, Tx
from exchange.records.rows.growing import ClaimRow
from exchange.records.rows.sharing import AllocationRow
from exchange.records.spares import give_back


class NoLongerOpenError(RefusedError):
    """The plants are on their way, or the answer was given before."""


def agree(actor: Actor, allocation_id: int, now: datetime) -> None:
    """Let the sender say yes to an allocation, and to what stands in one line with it."""
    with actor.books.writing() as tx:
        for one in asked_together(tx, actor, allocation_id):
            record_yes(tx, actor, one.id, now)


def record_yes(tx: Tx, actor: Actor, allocation_id: int, now: datetime) -> None:
    """Keep the sender's yes, within an act."""
    one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
    _must_send(tx, actor, one)
    if one.state not in STANDING:
        raise NoLongerOpenError("This has been answered already.")
    ALLOCATIONS.change(
        tx, actor.circle_id, allocation_id, state=AllocationState.AGREED, answered_at=now
    )
    note(tx, actor, "said yes to an allocation", f"allocation {allocation_id}", now)


def refuse(actor: Actor, allocation_id: int, now: datetime) -> None:
    """Let the sender quietly say no: the plants cannot go, and are taken off the list.

    So are those that stand in one line with them. The reserve is then given others, from other spares, where there
    are any.
    """
    with actor.books.writing() as tx:
        for one in asked_together(tx, actor, allocation_id):
            record_no(tx, actor, one.id, now)


def record_no(tx: Tx, actor: Actor, allocation_id: int, now: datetime) -> None:
    """Keep the sender's quiet no and ask for the reserve, within an act."""
    one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
    _must_send(tx, actor, one)
    end_allocation(tx, actor, one, AllocationState.REFUSED, now)
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    if spare.count - one.count <= 0:
        SPARES.change(tx, actor.circle_id, spare.id, withdrawn_at=now)
    else:
        SPARES.change(tx, actor.circle_id, spare.id, count=spare.count - one.count)
    note(tx, actor, "could not give", f"allocation {allocation_id}", now)
    ask_reserve(tx, actor, spare.variety_id, now)


def refuse_in_parcel(actor: Actor, parcel_id: int, allocation_id: int, now: datetime) -> bool:
    """Let the sender quietly say no to plants in a parcel; says whether nothing else is in it.

    Raises
    ------
    NotHereError
        When they are not in that parcel.
    """
    with actor.books.writing() as tx:
        inside = PARCEL_LINES.all(tx, actor.circle_id, parcel_id=parcel_id)
        if all(one.allocation_id != allocation_id for one in inside):
            raise NotHereError("these plants are not in the parcel")
        line = asked_together(tx, actor, allocation_id)
        for one in line:
            record_no(tx, actor, one.id, now)
        return len(inside) == len(line)


def decline(actor: Actor, allocation_id: int, now: datetime) -> int:
    """Let the receiver decline plants, and what stands in one line with them; they go to the reserve.

    Returns
    -------
    plants of the line that are on their way already, and come all the same [plants]
    """
    with actor.books.writing() as tx:
        line = coming_together(tx, actor, allocation_id)
        claim = CLAIMS.get(tx, actor.circle_id, line[0].claim_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=claim.household_id))
        here = [one for one in line if not _is_on_its_way(tx, actor, one)]
        for one in here or line:
            end_allocation(tx, actor, one, AllocationState.DECLINED, now)
            note(tx, actor, "declined plants", f"allocation {one.id}", now)
        _ask_for_less(tx, actor, claim, now)
        variety_id = SPARES.get(tx, actor.circle_id, line[0].spare_id).variety_id
        ask_reserve(tx, actor, variety_id, now)
        return sum(one.count for one in line) - sum(one.count for one in here)


def _ask_for_less(tx: Tx, actor: Actor, claim: ClaimRow, now: datetime) -> None:
    """Let a claim ask for what still stands of it; with nothing left it is taken back."""
    standing = ALLOCATIONS.all(tx, actor.circle_id, claim_id=claim.id, state=STANDING)
    left = sum(one.count for one in standing)
    if left:
        CLAIMS.change(tx, actor.circle_id, claim.id, asked=left)
    else:
        CLAIMS.change(tx, actor.circle_id, claim.id, withdrawn_at=now)


def _must_send(tx: Tx, actor: Actor, one: AllocationRow) -> None:
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=spare.household_id))


def end_allocation(
    tx: Tx, actor: Actor, one: AllocationRow, state: AllocationState, now: datetime
) -> None:
    """End an allocation that stands and is not yet on its way; its plants are free again."""
    if one.state not in STANDING:
        raise NoLongerOpenError("This has been answered already.")
    if _is_on_its_way(tx, actor, one):
        raise NoLongerOpenError("These plants are on their way already.")
    for row in PARCEL_LINES.all(tx, actor.circle_id, allocation_id=one.id):
        parcel = PARCELS.get(tx, actor.circle_id, row.parcel_id)
        if parcel.state is not ParcelState.RETURNED:
            PARCEL_LINES.remove(tx, actor.circle_id, row.id)
    ALLOCATIONS.change(tx, actor.circle_id, one.id, state=state, answered_at=now)
    give_back(tx, actor.circle_id, one.spare_id, one.count)


def _is_on_its_way(tx: Tx, actor: Actor, one: AllocationRow) -> bool:
    return any(
        PARCELS.get(tx, actor.circle_id, row.parcel_id).state not in WITH_SENDER
        for row in PARCEL_LINES.all(tx, actor.circle_id, allocation_id=one.id)
    )
