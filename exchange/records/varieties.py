"""Varieties as they stand: those merged into another lead to it, those removed are left out."""

from collections.abc import Mapping
from dataclasses import replace

from exchange.records.repositories import VARIETIES
from exchange.records.rows.growing import VarietyRow
from exchange.records.transaction import Tx


def standing_varieties(tx: Tx, circle_id: int) -> tuple[VarietyRow, ...]:
    """Give the varieties that were neither merged into another nor removed, in order of name."""
    return VARIETIES.all(tx, circle_id, merged_into=None, removed_at=None)


def names_known(tx: Tx, circle_id: int) -> tuple[VarietyRow, ...]:
    """Give every name under which a standing variety is found: its own and those merged into it."""
    rows = VARIETIES.by_id(tx, circle_id)
    ends = _ends(rows)
    return tuple(
        one if ends[one.id] == one.id else replace(rows[ends[one.id]], name=one.name)
        for one in rows.values()
        if rows[ends[one.id]].removed_at is None
    )


def ends_of_varieties(tx: Tx, circle_id: int) -> dict[int, int]:
    """Give which variety each one stands for today [id -> id]."""
    return _ends(VARIETIES.by_id(tx, circle_id))


def variety_meant_by(tx: Tx, circle_id: int, variety_id: int) -> VarietyRow:
    """Give the variety an id stands for today.

    Raises
    ------
    NotHereError
        When the circle has no such variety.
    """
    row = VARIETIES.get(tx, circle_id, variety_id)
    while row.merged_into is not None:
        row = VARIETIES.get(tx, circle_id, row.merged_into)
    return row


def taken_up(tx: Tx, circle_id: int, variety_id: int) -> VarietyRow:
    """Give the variety an id stands for, back among the circle's varieties if it was removed."""
    row = variety_meant_by(tx, circle_id, variety_id)
    if row.removed_at is not None:
        VARIETIES.change(tx, circle_id, row.id, removed_at=None)
    return row


def _ends(rows: Mapping[int, VarietyRow]) -> dict[int, int]:
    ends = {}
    for one in rows.values():
        end = one
        while end.merged_into is not None:
            end = rows[end.merged_into]
        ends[one.id] = end.id
    return ends
