"""Rows of what is grown, listed as spare, and claimed."""

from dataclasses import KW_ONLY, dataclass
from datetime import date, datetime
from typing import TypedDict

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species, Variety
from exchange.records.rows.wanted import OneOf


@dataclass(frozen=True, slots=True)
class VarietyRow(Variety):
    """A variety with the name it is looked up by: lower case, no accents."""

    _: KW_ONLY
    folded: str
    trade_name: str = ""
    group_id: int | None = None
    size_id: int | None = None
    merged_into: int | None = None
    removed_at: datetime | None = None


class VarietyChange(TypedDict, total=False):
    species: Species
    name: str
    folded: str
    trade_name: str
    group_id: int | None
    size_id: int | None
    removed_at: datetime | None
    keeps: Keeps
    must_not_be_lost: bool
    must_not_be_lost_because: str
    target_places: int
    protected: bool
    authority: str


class VarietyWhere(TypedDict, total=False):
    id: OneOf[int]
    species: OneOf[Species]
    folded: OneOf[str]
    group_id: OneOf[int] | None
    size_id: OneOf[int] | None
    merged_into: OneOf[int] | None
    removed_at: OneOf[datetime] | None


class PlantClassChange(TypedDict, total=False):
    label: str
    society: str
    position: int


class PlantClassWhere(TypedDict, total=False):
    id: OneOf[int]
    species: OneOf[Species]
    sort: OneOf[ClassSort]
    label: OneOf[str]
    society: OneOf[str]


class BatchChange(TypedDict, total=False):
    household_id: int
    plants: int


class BatchWhere(TypedDict, total=False):
    id: OneOf[int]
    variety_id: OneOf[int]
    household_id: OneOf[int]
    place_id: OneOf[int]
    material: OneOf[Material]
    raised: OneOf[Raised]
    shelter: OneOf[ShelterKind] | None
    origin: OneOf[str]


@dataclass(frozen=True, slots=True)
class SpareRow:
    id: int
    _: KW_ONLY
    household_id: int
    place_id: int
    variety_id: int
    batch_id: int | None = None
    material: Material
    raised: Raised
    count: int
    allocated: int = 0
    ready_from: date
    send_by: date
    set_aside_for: int | None = None
    roots_seen: bool = False
    health_by: str = ""
    health_on: date | None = None
    note: str = ""
    held: bool = False
    listed_at: datetime
    entered_by: int | None = None
    withdrawn_at: datetime | None = None


class SpareChange(TypedDict, total=False):
    variety_id: int
    batch_id: int | None
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    set_aside_for: int | None
    roots_seen: bool
    health_by: str
    health_on: date | None
    note: str
    held: bool
    withdrawn_at: datetime | None


class SpareWhere(TypedDict, total=False):
    id: OneOf[int]
    household_id: OneOf[int]
    place_id: OneOf[int]
    variety_id: OneOf[int]
    set_aside_for: OneOf[int] | None
    held: OneOf[bool]
    withdrawn_at: OneOf[datetime] | None


@dataclass(frozen=True, slots=True)
class ClaimRow:
    id: int
    _: KW_ONLY
    household_id: int
    place_id: int
    variety_id: int
    asked: int
    choice: int = 1
    materials: frozenset[Material]
    no_use_after: date | None = None
    alternatives: tuple[int, ...]
    set_aside: bool = False
    made_at: datetime
    entered_by: int | None = None
    wanted_at: datetime | None = None
    questioned_at: datetime | None = None
    lapsed_at: datetime | None = None
    withdrawn_at: datetime | None = None


class ClaimChange(TypedDict, total=False):
    place_id: int
    asked: int
    choice: int
    materials: frozenset[Material]
    no_use_after: date | None
    alternatives: tuple[int, ...]
    wanted_at: datetime | None
    questioned_at: datetime | None
    lapsed_at: datetime | None
    withdrawn_at: datetime | None


class ClaimWhere(TypedDict, total=False):
    id: OneOf[int]
    household_id: OneOf[int]
    place_id: OneOf[int]
    variety_id: OneOf[int]
    set_aside: OneOf[bool]
    withdrawn_at: OneOf[datetime] | None
