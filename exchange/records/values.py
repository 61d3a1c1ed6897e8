"""What rows look like outside: frozen dataclasses, for what the craft itself does not know."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.weather.forecast import WeatherSource


@dataclass(frozen=True, slots=True)
class Circle:
    id: int
    name: str
    country: str
    zone: str
    about_how_many: int
    terms: dict[str, Any]
    fixed_today: date | None
    stamp: int
    created_at: datetime


@dataclass(frozen=True, slots=True)
class HouseholdEntry:
    id: int
    name: str
    posting_weekdays: frozenset[int]
    parcels_a_day: int
    joined_on: date | None
    left_on: date | None
    address: str
    safe_place: str
    return_address_allowed: bool


@dataclass(frozen=True, slots=True)
class Member:
    id: int
    circle_id: int
    household_id: int
    account_id: int | None
    first_name: str
    surname: str
    email: str | None
    telephone: str
    telephone_allowed: bool
    organiser: bool
    helper: str
    joined_at: datetime
    left_at: datetime | None

    @property
    def full_name(self) -> str:
        return f"{self.first_name} {self.surname}".strip()


@dataclass(frozen=True, slots=True)
class ShelterEntry:
    id: int
    place_id: int
    kind: ShelterKind
    room_pots: int | None
    carried_in: bool


@dataclass(frozen=True, slots=True)
class AwayEntry:
    id: int
    household_id: int
    first: date
    last: date
    cannot_receive: bool
    cannot_post: bool


@dataclass(frozen=True, slots=True)
class SpareEntry:
    id: int
    household_id: int
    place_id: int
    variety_id: int
    batch_id: int | None
    material: Material
    raised: Raised
    count: int
    allocated: int
    ready_from: date
    send_by: date
    set_aside_for: int | None
    roots_seen: bool
    health_by: str
    health_on: date | None
    note: str
    held: bool
    listed_at: datetime
    entered_by: int | None
    withdrawn_at: datetime | None


@dataclass(frozen=True, slots=True)
class ClaimEntry:
    id: int
    household_id: int
    place_id: int
    variety_id: int
    asked: int
    choice: int
    materials: frozenset[Material]
    no_use_after: date | None
    alternatives: tuple[int, ...]
    set_aside: bool
    made_at: datetime
    entered_by: int | None
    withdrawn_at: datetime | None


@dataclass(frozen=True, slots=True)
class ShareOutEntry:
    id: int
    name: str
    opens_on: date
    closes_on: date
    draw_hash: str
    draw_number: str
    state: str
    worked_stamp: int | None
    worked_at: datetime | None
    confirmed_at: datetime | None
    proposal: dict[str, Any] | None
    working: dict[str, Any] | None


@dataclass(frozen=True, slots=True)
class Answer:
    id: int
    share_out_id: int
    claim_id: int
    given: int
    reason: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Allocation:
    id: int
    share_out_id: int | None
    spare_id: int
    claim_id: int
    count: int
    state: str
    answered_at: datetime | None
    made_at: datetime


@dataclass(frozen=True, slots=True)
class WayEntry:
    id: int
    name: str
    country: str
    carriage: str
    odds: tuple[float, ...]
    hand_over_weekdays: frozenset[int]
    delivery_weekdays: frozenset[int]
    cut_off_hour: float
    postage: int | None
    depot_offset_c: float
    quick: bool
    source: str
    used: bool


@dataclass(frozen=True, slots=True)
class Closure:
    id: int
    country: str
    subdivision: str
    day: date
    label: str
    opened: bool


@dataclass(frozen=True, slots=True)
class ParcelEntry:
    id: int
    code: str
    sender_household_id: int
    sender_place_id: int
    receiver_household_id: int
    receiver_place_id: int
    state: ParcelState
    way_id: int | None
    chosen_way_id: int | None
    posting_day: date | None
    arrival_from: date | None
    arrival_to: date | None
    loss_chance: float | None
    held: bool
    weather_source: WeatherSource
    reasons: tuple[str, ...]
    plan: dict[str, Any]
    announced_day: date | None
    announced_way_id: int | None
    waiting_since: date | None
    posted_on: date | None
    arrived_on: date | None
    condition: str
    changed_at: datetime
    closed_at: datetime | None


@dataclass(frozen=True, slots=True)
class ParcelLine:
    id: int
    parcel_id: int
    allocation_id: int
    count: int


@dataclass(frozen=True, slots=True)
class ForecastFault:
    id: int
    source: str
    what: str
    at: datetime
    not_before: datetime | None


@dataclass(frozen=True, slots=True)
class DiaryRow:
    id: int
    key: str
    kind: str
    household_id: int | None
    parcel_id: int | None
    first_day: date
    last_day: date
    title: str
    text: str
    alarm_hours: int | None
    sequence: int
    content_changed_at: datetime
    cancelled_on: date | None


@dataclass(frozen=True, slots=True)
class Task:
    id: int
    circle_id: int
    kind: str
    subject_id: int | None
    state: str
    stage: str
    progress: float
    cancel: bool
    error: str
    asked_by: int | None
    asked_at: datetime
    claimed_at: datetime | None
    seen_at: datetime | None
    ended_at: datetime | None
    result: dict[str, Any] | None


@dataclass(frozen=True, slots=True)
class Letter:
    id: int
    circle_id: int
    member_id: int
    key: str
    kind: str
    subject: str
    body: str
    state: str
    tries: int
    fault: str
    written_at: datetime
    not_before: datetime | None
    sent_at: datetime | None
    to_address: str | None


@dataclass(frozen=True, slots=True)
class CalendarAddress:
    id: int
    circle_id: int
    member_id: int
    kind: str
    sha256: str
    made_at: datetime
    last_fetched_at: datetime | None
    last_fetched_by: str
    changed_at: datetime
    revoked_at: datetime | None
    reminders: bool


@dataclass(frozen=True, slots=True)
class Link:
    id: int
    sha256: str
    purpose: str
    member_id: int
    subject_id: int | None
    made_at: datetime
    expires_at: datetime
    used_at: datetime | None


@dataclass(frozen=True, slots=True)
class Deed:
    id: int
    actor_id: int | None
    for_member_id: int | None
    act: str
    what: str
    done_at: datetime


@dataclass(frozen=True, slots=True)
class AccountEntry:
    id: int
    email: str
    active: bool
    wanted_email: str | None
