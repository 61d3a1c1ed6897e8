"""Left-overs: what a confirmed share-out left, open to whoever comes first."""

from dataclasses import dataclass, replace
from datetime import datetime

from exchange.actions.growing.batches import first_place
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.same_facts import on_same_facts
from exchange.actions.kernel.tasks import ask
from exchange.actions.sharing.allocations import give, said_no
from exchange.actions.sharing.claims import open_claim
from exchange.actions.sharing.reserve import with_the_reserve
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.actions.sharing.share_out_letters import tell_later
from exchange.actions.sharing.share_out_proposal import forbids_of
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.afterwards import LeftOverRefused
from exchange.domain.sharing.afterwards import take_left_over as take_one
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.claim import USUAL_MATERIALS, Claim
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.states import UNCONFIRMED
from exchange.records import CLAIMS, HOUSEHOLDS, SHARE_OUTS, SPARES, Tx
from exchange.records.rows.growing import SpareRow
from exchange.records.rows.sharing import ShareOutRow
from exchange.records.share_outs import last_confirmed
from exchange.records.spares import NotEnoughLeftError
from exchange.words.sharing.reasons import plain_obstacle


class NotOpenNowError(RefusedError):
    """Nothing is open to whoever comes first: a share-out is running, or none was confirmed yet."""


class JustGoneError(RefusedError):
    """It is no longer available; why is not said, so that a sender's quiet no stays quiet."""

    def __init__(self) -> None:
        super().__init__("It is no longer to be had.")


class CannotHaveItError(RefusedError):
    """Something stands between the household and the left-over."""


@dataclass(frozen=True, slots=True)
class LeftOverClaim:
    """The claim a left-over goes to: an existing one, or one to be made."""

    claim_id: int | None
    value: Claim


@dataclass(frozen=True, slots=True)
class _LeftOverToTake:
    """What was seen before a left-over is given."""

    share_out: ShareOutRow
    spare: SpareRow
    wish: LeftOverClaim


def open_to_all(tx: Tx, circle_id: int) -> ShareOutRow | None:
    """Give the share-out whose left-overs are open; none while another is running."""
    if SHARE_OUTS.all(tx, circle_id, state=UNCONFIRMED):
        return None
    return last_confirmed(tx, circle_id)


def left_over_spares(tx: Tx, actor: Actor, now: datetime) -> tuple[SpareRow, ...]:
    """Give the spares of which plants are left over for the household; none while a share-out is running.

    What a sender has refused it is not among them; what it declined itself is, for it may think again.
    What just came free is offered to the reserve first.
    """
    share_out = open_to_all(tx, actor.circle_id)
    if share_out is None or share_out.confirmed_at is None:
        return ()
    today = today_in(circle_of(actor, tx), now)
    left = {one.id for one in HOUSEHOLDS.all(tx, actor.circle_id) if one.left_on is not None}
    no = said_no(tx, actor.circle_id)
    with_others = with_the_reserve(tx, actor.circle_id)
    return tuple(
        one
        for one in SPARES.all(tx, actor.circle_id, withdrawn_at=None, set_aside_for=None)
        if one.count > one.allocated
        and not one.held
        and one.send_by >= today
        and one.household_id not in left
        and (one.id, actor.household_id) not in no
        and one.variety_id not in with_others
        and one.listed_at <= share_out.confirmed_at
    )


def take_left_over(actor: Actor, spare_id: int, now: datetime) -> int:
    """Give one plant of a left-over at once; the database lets only one have the last.

    Returns
    -------
    the allocation's number

    Raises
    ------
    NotOpenNowError, JustGoneError, CannotHaveItError
        When it is not open, is no longer available, or something stands in the way.
    """
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    return on_same_facts(
        actor,
        lambda tx: _look(tx, actor, spare_id, now),
        lambda tx, found: _record_taken(tx, actor, found, now),
    )


def _look(tx: Tx, actor: Actor, spare_id: int, now: datetime) -> _LeftOverToTake:
    """See whether the household may have one, without the write lock; latecomers end here, at little cost."""
    share_out = open_to_all(tx, actor.circle_id)
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    if share_out is None:
        raise NotOpenNowError("A share-out is running or none was yet; claim it instead.")
    if spare_id not in {one.id for one in left_over_spares(tx, actor, now)}:
        raise JustGoneError
    wish = _wish(tx, actor, spare)
    _check(tx, actor, share_out, spare, wish, now)
    return _LeftOverToTake(share_out, spare, wish)


def _record_taken(tx: Tx, actor: Actor, found: _LeftOverToTake, now: datetime) -> int:
    claim_id = _claim(tx, actor, found.spare, found.wish, now)
    try:
        one = Allocation(found.spare.id, claim_id, 1)
        made = give(tx, actor.circle_id, found.share_out.id, one, now)
    except NotEnoughLeftError as error:
        raise JustGoneError from error
    _remember(tx, actor, found.share_out, made)
    tell_later(tx, actor, (made,), now)
    note(tx, actor, "took a left-over", f"spare {found.spare.id}", now)
    ask(tx, actor, "plan", None, now)
    return made


def _wish(tx: Tx, actor: Actor, spare: SpareRow) -> LeftOverClaim:
    """Give the household's own open claim on the variety, asking for one; else a new one."""
    there = open_claim(tx, actor.circle_id, actor.own_household(), spare.variety_id)
    place_id = there.place_id if there else first_place(tx, actor)
    materials = (there.materials if there else USUAL_MATERIALS) | {spare.material}
    value = Claim(
        there.id if there else 0,
        actor.own_household(),
        place_id,
        spare.variety_id,
        materials=materials,
        no_use_after=there.no_use_after if there else None,
    )
    return LeftOverClaim(there.id if there else None, value)


def _check(
    tx: Tx,
    actor: Actor,
    share_out: ShareOutRow,
    spare: SpareRow,
    wish: LeftOverClaim,
    now: datetime,
) -> None:
    case = share_out_case(tx, actor.circle_id, share_out, now, extra=(wish.value,))
    own = CLAIMS.by_id(tx, actor.circle_id, household_id=actor.own_household())
    # The organiser's word on any claim of the household holds for a new one too.
    apart = {(one, wish.value.id) for one, claim_id in forbids_of(share_out) if claim_id in own}
    case = replace(case, forbids=tuple(sorted(apart.union(case.forbids))))
    try:
        take_one(case, spare.id, wish.value)
    except LeftOverRefused as error:
        if error.obstacle in (Obstacle.FEWER, Obstacle.NOBODY_OFFERS):
            raise JustGoneError from error
        raise CannotHaveItError(plain_obstacle(error.obstacle)) from error


def _claim(tx: Tx, actor: Actor, spare: SpareRow, wish: LeftOverClaim, now: datetime) -> int:
    if wish.claim_id is not None:
        CLAIMS.change(tx, actor.circle_id, wish.claim_id, materials=wish.value.materials)
        return wish.claim_id
    return CLAIMS.add(
        tx,
        actor.circle_id,
        household_id=wish.value.household_id,
        place_id=wish.value.place_id,
        variety_id=spare.variety_id,
        asked=1,
        choice=1,
        materials=wish.value.materials,
        no_use_after=None,
        alternatives=(),
        made_at=now,
        entered_by=actor.member_id,
    )


def _remember(tx: Tx, actor: Actor, share_out: ShareOutRow, allocation_id: int) -> None:
    """Keep with the share-out that this allocation was a left-over, for its list of changes."""
    proposal = share_out.proposal or {}
    taken = [*proposal.get("left_overs", ()), allocation_id]
    SHARE_OUTS.change(tx, actor.circle_id, share_out.id, proposal={**proposal, "left_overs": taken})
