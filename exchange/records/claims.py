"""Queries on claims beyond their columns."""

from collections import Counter

from exchange.domain.sharing.states import STANDING
from exchange.records.repositories import ALLOCATIONS, CLAIMS
from exchange.records.rows.growing import ClaimRow
from exchange.records.transaction import Tx


def lacking_claims(tx: Tx, circle_id: int) -> dict[ClaimRow, int]:
    """Give the claims that still lack plants, with how many: not withdrawn, not set aside, fewer given than asked."""
    given = Counter[int]()
    for one in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        given[one.claim_id] += one.count
    claims = CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    return {one: one.asked - given[one.id] for one in claims if given[one.id] < one.asked}


def open_claims(tx: Tx, circle_id: int) -> tuple[ClaimRow, ...]:
    """Give the claims that still wait: not withdrawn, not set aside, nothing given to them."""
    standing = ALLOCATIONS.all(tx, circle_id, state=STANDING)
    answered = {one.claim_id for one in standing}
    claims = CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    return tuple(one for one in claims if one.id not in answered)
