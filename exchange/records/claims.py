"""Queries on claims beyond their columns."""

from exchange.domain.sharing.states import STANDING
from exchange.records.repositories import ALLOCATIONS, CLAIMS
from exchange.records.rows.growing import ClaimRow
from exchange.records.transaction import Tx


def open_claims(tx: Tx, circle_id: int) -> tuple[ClaimRow, ...]:
    """Give the claims that still wait: not withdrawn, not set aside, nothing given to them."""
    standing = ALLOCATIONS.all(tx, circle_id, state=STANDING)
    answered = {one.claim_id for one in standing}
    claims = CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    return tuple(one for one in claims if one.id not in answered)
