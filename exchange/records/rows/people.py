"""Rows of households, their members, places and shelters, and of signing in."""

from dataclasses import KW_ONLY, dataclass
from datetime import date, datetime
from typing import TypedDict

from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.records.rows.wanted import OneOf


@dataclass(frozen=True, slots=True)
class AccountRow:
    id: int
    _: KW_ONLY
    email: str
    active: bool = True
    wanted_email: str | None = None


@dataclass(frozen=True, slots=True)
class SignInRow:
    """An account with what signing in needs of it.

    Attributes
    ----------
    password : its hash, or None where the account signs in by mail only
    fs_uniquifier : the mark its sessions carry
    """

    id: int
    _: KW_ONLY
    email: str
    password: str | None = None
    active: bool = True
    fs_uniquifier: str


class SignInWhere(TypedDict, total=False):
    id: int
    email: str
    fs_uniquifier: str


@dataclass(frozen=True, slots=True)
class HouseholdRow:
    id: int
    _: KW_ONLY
    name: str
    posting_weekdays: frozenset[int]
    parcels_a_day: int = 3
    joined_on: date | None = None
    left_on: date | None = None
    address: str = ""
    safe_place: str = ""
    return_address_allowed: bool = False
    merged_into: int | None = None


class HouseholdChange(TypedDict, total=False):
    name: str
    posting_weekdays: frozenset[int]
    parcels_a_day: int
    joined_on: date | None
    left_on: date | None
    address: str
    safe_place: str
    return_address_allowed: bool


@dataclass(frozen=True, slots=True)
class MemberRow:
    id: int
    _: KW_ONLY
    circle_id: int = 0
    household_id: int
    account_id: int | None = None
    first_name: str
    surname: str = ""
    email: str | None = None
    telephone: str = ""
    telephone_allowed: bool = False
    on_ring_list: bool = False
    organiser: bool = False
    helper: str = ""
    joined_at: datetime
    left_at: datetime | None = None
    erased_at: datetime | None = None
    merged_into: int | None = None

    @property
    def full_name(self) -> str:
        return f"{self.first_name} {self.surname}".strip()


class MemberChange(TypedDict, total=False):
    household_id: int
    account_id: int | None
    first_name: str
    surname: str
    email: str | None
    telephone: str
    telephone_allowed: bool
    on_ring_list: bool
    organiser: bool
    helper: str
    left_at: datetime | None


class MemberWhere(TypedDict, total=False):
    id: OneOf[int]
    household_id: OneOf[int]
    organiser: OneOf[bool]
    left_at: OneOf[datetime] | None
    merged_into: OneOf[int] | None


class PlaceChange(TypedDict, total=False):
    household_id: int
    name: str
    town: str
    county: str
    country: str
    subdivision: str
    latitude: float
    longitude: float
    zone: str
    height_m: float | None
    lie: Lie
    home_by: int
    letter_box: bool
    rural_extra_day: bool
    frost_rare_day: int | None


class PlaceWhere(TypedDict, total=False):
    id: OneOf[int]
    household_id: OneOf[int]


@dataclass(frozen=True, slots=True)
class ShelterRow:
    id: int
    _: KW_ONLY
    place_id: int
    kind: ShelterKind
    room_pots: int | None = None
    carried_in: bool = False


class ShelterChange(TypedDict, total=False):
    room_pots: int | None
    carried_in: bool


class ShelterWhere(TypedDict, total=False):
    id: OneOf[int]
    place_id: OneOf[int]
    kind: OneOf[ShelterKind]


@dataclass(frozen=True, slots=True)
class AwayRow:
    id: int
    _: KW_ONLY
    household_id: int
    first: date
    last: date
    cannot_receive: bool = True
    cannot_post: bool = True


class AwayChange(TypedDict, total=False):
    household_id: int
    first: date
    last: date
    cannot_receive: bool
    cannot_post: bool


class AwayWhere(TypedDict, total=False):
    id: OneOf[int]
    household_id: OneOf[int]


@dataclass(frozen=True, slots=True)
class LinkRow:
    id: int
    _: KW_ONLY
    sha256: str
    purpose: str
    member_id: int
    subject_id: int | None = None
    made_at: datetime
    expires_at: datetime
    used_at: datetime | None = None
