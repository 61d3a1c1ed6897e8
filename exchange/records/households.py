"""Households as they stand: one that was merged into another leads to it."""

from exchange.records.repositories import HOUSEHOLDS
from exchange.records.transaction import Tx


def ends_of_households(tx: Tx, circle_id: int) -> dict[int, int]:
    """Give which household each one stands for today [id -> id]."""
    rows = HOUSEHOLDS.by_id(tx, circle_id)
    ends = {}
    for one in rows.values():
        end = one
        while end.merged_into is not None:
            end = rows[end.merged_into]
        ends[one.id] = end.id
    return ends
