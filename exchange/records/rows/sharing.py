"""Rows of share-outs and what they gave."""

from dataclasses import KW_ONLY, dataclass
from datetime import date, datetime
from typing import Any, TypedDict

from exchange.domain.sharing.states import AllocationState, ShareOutState
from exchange.records.rows.wanted import OneOf


@dataclass(frozen=True, slots=True)
class ShareOutRow:
    id: int
    _: KW_ONLY
    name: str
    opens_on: date
    closes_on: date
    draw_hash: str
    draw_number: str
    state: ShareOutState = ShareOutState.OPEN
    worked_stamp: int | None = None
    worked_at: datetime | None = None
    confirmed_at: datetime | None = None
    proposal: dict[str, Any] | None = None
    working: dict[str, Any] | None = None


class ShareOutChange(TypedDict, total=False):
    name: str
    closes_on: date
    state: ShareOutState
    proposal: dict[str, Any] | None


class ShareOutWhere(TypedDict, total=False):
    id: OneOf[int]
    state: OneOf[ShareOutState]


@dataclass(frozen=True, slots=True)
class ClaimAnswerRow:
    id: int
    _: KW_ONLY
    share_out_id: int
    claim_id: int
    given: int
    reason: dict[str, Any]


class ClaimAnswerChange(TypedDict, total=False):
    reason: dict[str, Any]


class ClaimAnswerWhere(TypedDict, total=False):
    id: OneOf[int]
    share_out_id: OneOf[int]
    claim_id: OneOf[int]


@dataclass(frozen=True, slots=True)
class AllocationRow:
    id: int
    _: KW_ONLY
    share_out_id: int | None = None
    spare_id: int
    claim_id: int
    count: int
    state: AllocationState = AllocationState.CONFIRMED
    answered_at: datetime | None = None
    made_at: datetime


class AllocationChange(TypedDict, total=False):
    count: int
    state: AllocationState
    answered_at: datetime | None


class AllocationWhere(TypedDict, total=False):
    id: OneOf[int]
    share_out_id: OneOf[int] | None
    spare_id: OneOf[int]
    claim_id: OneOf[int]
    state: OneOf[AllocationState]
