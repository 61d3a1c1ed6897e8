"""Rows of ways, parcels, their dates, and of forecasts that failed."""

from dataclasses import KW_ONLY, dataclass
from datetime import date, datetime
from typing import Any, TypedDict

from exchange.domain.diary import EntryKind
from exchange.domain.posting.announced import Ground
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.way import Carriage
from exchange.domain.weather.forecast import WeatherSource
from exchange.records.rows.wanted import OneOf


@dataclass(frozen=True, slots=True)
class WayRow:
    id: int
    _: KW_ONLY
    name: str
    country: str
    carriage: Carriage
    odds: tuple[float, ...]
    hand_over_weekdays: frozenset[int]
    delivery_weekdays: frozenset[int]
    cut_off_hour: float = 16.0
    postage: int | None = None
    depot_offset_c: float = 2.0
    quick: bool = True
    source: str = ""
    used: bool = True


class WayChange(TypedDict, total=False):
    hand_over_weekdays: frozenset[int]
    delivery_weekdays: frozenset[int]
    cut_off_hour: float
    postage: int | None
    used: bool


class WayWhere(TypedDict, total=False):
    id: OneOf[int]
    carriage: OneOf[Carriage]
    used: OneOf[bool]


class RoutePointWhere(TypedDict, total=False):
    id: OneOf[int]
    way_id: OneOf[int]


@dataclass(frozen=True, slots=True)
class TariffBandRow:
    id: int
    _: KW_ONLY
    name: str
    price: int


class TariffBandWhere(TypedDict, total=False):
    id: OneOf[int]
    name: OneOf[str]


@dataclass(frozen=True, slots=True)
class ParcelRow:
    """A parcel and what was last planned for it.

    Attributes
    ----------
    posting_day : the day planned; until it is announced members are told its week
    announced_at, announced_loss : when the announced day was told, and the chance of loss then
    day_chosen_by : the member who chose the announced day, whom alone moves it; None for the plan
    nights_missing, weather_issued_at : what the forecasts told of it when it was last weighed
    question : why whoever chose the day is asked to leave it, None where nothing is asked
    proposed_day : the day proposed instead
    day_kept : whether the question was answered with keeping the day
    missed_on : when its receiver said that it had not come though its days were over
    asked_to_post_id : the household asked to post it for the sender, which has not answered
    poster_household_id : the household that took it over and posts it
    postage, postage_repaid : what it cost, and whether that was paid back [smallest coin]
    against_advice : whether whoever chose the announced day knew that it is over the circle's limit
    """

    id: int
    _: KW_ONLY
    code: str
    sender_household_id: int
    sender_place_id: int
    receiver_household_id: int
    receiver_place_id: int
    state: ParcelState = ParcelState.PLANNED
    way_id: int | None = None
    chosen_way_id: int | None = None
    posting_day: date | None = None
    arrival_from: date | None = None
    arrival_to: date | None = None
    loss_chance: float | None = None
    held: bool = False
    answer: PostingAnswer | None = None
    weather_source: WeatherSource = WeatherSource.NONE
    reasons: tuple[str, ...]
    plan: dict[str, Any]
    announced_day: date | None = None
    announced_way_id: int | None = None
    announced_at: datetime | None = None
    announced_loss: float | None = None
    day_chosen_by: int | None = None
    nights_missing: int | None = None
    weather_issued_at: datetime | None = None
    question: Ground | None = None
    proposed_day: date | None = None
    day_kept: bool = False
    against_advice: bool = False
    waiting_since: date | None = None
    posted_on: date | None = None
    arrived_on: date | None = None
    missed_on: date | None = None
    condition: str = ""
    asked_to_post_id: int | None = None
    poster_household_id: int | None = None
    postage: int | None = None
    postage_repaid: bool = False
    changed_at: datetime
    closed_at: datetime | None = None

    @property
    def posted_by(self) -> int:
        """The household that posts it."""
        return self.poster_household_id or self.sender_household_id

    @property
    def is_announced(self) -> bool:
        """Whether its day was told, by the plan or by its being posted; else only a week is."""
        return self.posting_day is not None and self.state is not ParcelState.PLANNED


class ParcelChange(TypedDict, total=False):
    state: ParcelState
    way_id: int | None
    chosen_way_id: int | None
    posting_day: date | None
    arrival_from: date | None
    arrival_to: date | None
    loss_chance: float | None
    held: bool
    answer: PostingAnswer | None
    weather_source: WeatherSource
    reasons: tuple[str, ...]
    plan: dict[str, Any]
    announced_day: date | None
    announced_way_id: int | None
    announced_at: datetime | None
    announced_loss: float | None
    day_chosen_by: int | None
    nights_missing: int | None
    weather_issued_at: datetime | None
    question: Ground | None
    proposed_day: date | None
    day_kept: bool
    against_advice: bool
    waiting_since: date | None
    posted_on: date | None
    arrived_on: date | None
    missed_on: date | None
    condition: str
    asked_to_post_id: int | None
    poster_household_id: int | None
    postage: int | None
    postage_repaid: bool
    changed_at: datetime
    closed_at: datetime | None


class ParcelWhere(TypedDict, total=False):
    id: OneOf[int]
    sender_household_id: OneOf[int]
    sender_place_id: OneOf[int]
    receiver_household_id: OneOf[int]
    receiver_place_id: OneOf[int]
    state: OneOf[ParcelState]
    held: OneOf[bool]


@dataclass(frozen=True, slots=True)
class ParcelLineRow:
    id: int
    _: KW_ONLY
    parcel_id: int
    allocation_id: int
    count: int


class ParcelLineChange(TypedDict, total=False):
    count: int


class ParcelLineWhere(TypedDict, total=False):
    id: OneOf[int]
    parcel_id: OneOf[int]
    allocation_id: OneOf[int]


@dataclass(frozen=True, slots=True)
class ForecastFaultRow:
    id: int
    _: KW_ONLY
    source: str
    what: str
    at: datetime
    not_before: datetime | None = None


@dataclass(frozen=True, slots=True)
class DiaryRow:
    id: int
    _: KW_ONLY
    key: str
    kind: EntryKind
    household_id: int | None = None
    parcel_id: int | None = None
    first_day: date
    last_day: date
    title: str
    text: str
    alarm_hours: int | None = None
    tentative: bool = False
    sequence: int = 0
    content_changed_at: datetime
    cancelled_on: date | None = None


class DiaryChange(TypedDict, total=False):
    parcel_id: int | None
    first_day: date
    last_day: date
    title: str
    text: str
    alarm_hours: int | None
    tentative: bool
    sequence: int
    content_changed_at: datetime
    cancelled_on: date | None


class DiaryWhere(TypedDict, total=False):
    id: OneOf[int]
    household_id: OneOf[int] | None
    parcel_id: OneOf[int] | None
    cancelled_on: OneOf[date] | None
