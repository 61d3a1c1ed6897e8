"""Answers after a share-out: the sender's yes or quiet no, the receiver's no, and the reserve."""

from dataclasses import replace
from datetime import datetime

from exchange.actions.kernel.actor import Actor, circle_of, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.sharing.allocations import give, said_no
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.actions.sharing.share_out_letters import tell_later
from exchange.domain.permissions import Permission, Subject
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.afterwards import as_they_stand, give_reserve
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.states import ANSWERED_NO, STANDING, AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, PARCEL_LINES, PARCELS, SPARES, Tx
from exchange.records.rows.growing import ClaimRow
from exchange.records.rows.sharing import AllocationRow, ShareOutRow
from exchange.records.share_outs import last_confirmed
from exchange.records.spares import give_back


class NoLongerOpenError(RefusedError):
    """The plants are on their way, or the answer was given before."""


def agree(actor: Actor, allocation_id: int, now: datetime) -> None:
    """Let the sender say yes to an allocation."""
    with actor.books.writing() as tx:
        one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
        _must_send(tx, actor, one)
        if one.state not in STANDING:
            raise NoLongerOpenError("This has been answered already.")
        ALLOCATIONS.change(
            tx, actor.circle_id, allocation_id, state=AllocationState.AGREED, answered_at=now
        )
        note(tx, actor, "said yes to an allocation", f"allocation {allocation_id}", now)


def refuse(actor: Actor, allocation_id: int, now: datetime) -> int:
    """Let the sender quietly say no: the plants cannot go, and are taken off the list.

    Returns
    -------
    plants given from the reserve instead, from other spares [plants]
    """
    with actor.books.writing() as tx:
        one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
        _must_send(tx, actor, one)
        end_allocation(tx, actor, one, AllocationState.REFUSED, now)
        spare = SPARES.get(tx, actor.circle_id, one.spare_id)
        if spare.count - one.count <= 0:
            SPARES.change(tx, actor.circle_id, spare.id, withdrawn_at=now)
        else:
            SPARES.change(tx, actor.circle_id, spare.id, count=spare.count - one.count)
        note(tx, actor, "could not give", f"allocation {allocation_id}", now)
        variety_id = spare.variety_id
    given = give_from_reserve(actor, variety_id, now)
    with actor.books.writing() as tx:
        ask(tx, actor, "plan", None, now)
    return given


def decline(actor: Actor, allocation_id: int, now: datetime) -> int:
    """Let the receiver decline plants; they go to the reserve.

    Returns
    -------
    plants given to the reserve [plants]
    """
    with actor.books.writing() as tx:
        one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
        claim = CLAIMS.get(tx, actor.circle_id, one.claim_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=claim.household_id))
        end_allocation(tx, actor, one, AllocationState.DECLINED, now)
        _ask_for_less(tx, actor, claim, now)
        note(tx, actor, "declined plants", f"allocation {allocation_id}", now)
        variety_id = SPARES.get(tx, actor.circle_id, one.spare_id).variety_id
    given = give_from_reserve(actor, variety_id, now)
    with actor.books.writing() as tx:
        ask(tx, actor, "plan", None, now)
    return given


def give_from_reserve(actor: Actor, variety_id: int, now: datetime) -> int:
    """Give freed plants of a variety to claims still open, by the same rules; nobody else moves.

    Returns
    -------
    plants given [plants]
    """
    with actor.books.reading() as tx:
        share_out = last_confirmed(tx, actor.circle_id)
        if share_out is None:
            return 0
        stamp = circle_of(actor, tx).stamp
        case = _case(tx, actor, share_out, now)
    found = give_reserve(case, variety_id)
    with actor.books.writing() as tx:
        if circle_of(actor, tx).stamp != stamp:
            found = give_reserve(_case(tx, actor, share_out, now), variety_id)
        made = {give(tx, actor.circle_id, share_out.id, one, now): one.count for one in found}
        tell_later(tx, actor, tuple(made), now)
    return sum(made.values())


def _case(tx: Tx, actor: Actor, share_out: ShareOutRow, now: datetime) -> ShareOutCase:
    """Give the case with what stands kept; what was listed or claimed since waits for the next share-out.

    What was answered with no is not offered to the same claim again, nor what its sender refused to the household.
    """
    since = share_out.confirmed_at or now
    spares = SPARES.all(tx, actor.circle_id)
    claims = CLAIMS.all(tx, actor.circle_id)
    case = as_they_stand(
        share_out_case(tx, actor.circle_id, share_out, now),
        spares={one.id for one in spares if one.listed_at > since},
        claims={one.id for one in claims if one.made_at > since},
    )
    answered = ALLOCATIONS.all(tx, actor.circle_id, state=ANSWERED_NO)
    no = {(one.spare_id, one.claim_id) for one in answered}
    for spare_id, household_id in said_no(tx, actor.circle_id):
        no |= {(spare_id, one.id) for one in claims if one.household_id == household_id}
    return replace(case, forbids=tuple(sorted(no.union(case.forbids))))


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
    for row in PARCEL_LINES.all(tx, actor.circle_id, allocation_id=one.id):
        parcel = PARCELS.get(tx, actor.circle_id, row.parcel_id)
        if parcel.state not in {ParcelState.PLANNED, ParcelState.ANNOUNCED}:
            raise NoLongerOpenError("These plants are on their way already.")
        PARCEL_LINES.remove(tx, actor.circle_id, row.id)
    ALLOCATIONS.change(tx, actor.circle_id, one.id, state=state, answered_at=now)
    give_back(tx, actor.circle_id, one.spare_id, one.count)
