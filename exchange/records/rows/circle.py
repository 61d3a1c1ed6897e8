"""Rows of the circle itself: its terms, days without post, who did what."""

from dataclasses import KW_ONLY, dataclass, field
from datetime import date, datetime
from typing import Any, TypedDict

from exchange.domain.circle.moves import MergerKind
from exchange.records.rows.wanted import OneOf


@dataclass(frozen=True, slots=True)
class CircleRow:
    id: int
    _: KW_ONLY
    name: str
    country: str
    zone: str
    about_how_many: int
    terms: dict[str, Any] = field(default_factory=dict)
    fixed_today: date | None = None
    stamp: int = 0
    created_at: datetime


class CircleColumns(TypedDict):
    """What a new circle is made with."""

    name: str
    country: str
    zone: str
    about_how_many: int
    created_at: datetime


class CircleChange(TypedDict, total=False):
    terms: dict[str, Any]
    fixed_today: date | None


@dataclass(frozen=True, slots=True)
class ClosureRow:
    id: int
    _: KW_ONLY
    country: str
    subdivision: str = ""
    day: date
    label: str
    opened: bool = False


class ClosureWhere(TypedDict, total=False):
    id: OneOf[int]
    country: OneOf[str]
    subdivision: OneOf[str]
    day: OneOf[date]


@dataclass(frozen=True, slots=True)
class MergerRow:
    """Two varieties or two members made one.

    Attributes
    ----------
    moves : what changed, in its order, as plain values
    watched : allocations that stood on what moved; others since stand in the way of taking it back
    """

    id: int
    _: KW_ONLY
    kind: MergerKind
    kept_id: int
    merged_id: int
    moves: tuple[Any, ...]
    watched: tuple[int, ...]
    done_by: int | None = None
    done_at: datetime
    undone_at: datetime | None = None


class MergerChange(TypedDict, total=False):
    undone_at: datetime | None


class MergerWhere(TypedDict, total=False):
    id: OneOf[int]
    kind: OneOf[MergerKind]
    kept_id: OneOf[int]
    merged_id: OneOf[int]
    undone_at: OneOf[datetime] | None


@dataclass(frozen=True, slots=True)
class DeedRow:
    id: int
    _: KW_ONLY
    actor_id: int | None = None
    for_member_id: int | None = None
    act: str
    what: str
    done_at: datetime
