"""Plants given: which allocations stand, and how one is made."""

from datetime import datetime

from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, Tx
from exchange.records.spares import take


def said_no(tx: Tx, circle_id: int) -> frozenset[tuple[int, int]]:
    """Give each spare with a household its sender has refused plants of it, all or some, after a share-out."""
    refused = [
        one
        for one in ALLOCATIONS.all(tx, circle_id, state=AllocationState.REFUSED)
        if one.share_out_id is not None
    ]
    claims = CLAIMS.by_id(tx, circle_id, id={one.claim_id for one in refused})
    return frozenset((one.spare_id, claims[one.claim_id].household_id) for one in refused)


def give(tx: Tx, circle_id: int, share_out_id: int, one: Allocation, now: datetime) -> int:
    """Give plants of a spare to a claim, and give the allocation's number.

    Raises
    ------
    NotEnoughLeftError
        When fewer are left.
    """
    take(tx, circle_id, one.spare_id, one.count)
    return ALLOCATIONS.add(
        tx,
        circle_id,
        share_out_id=share_out_id,
        spare_id=one.spare_id,
        claim_id=one.claim_id,
        count=one.count,
        made_at=now,
    )
