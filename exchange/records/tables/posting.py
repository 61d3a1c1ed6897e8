from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from exchange.domain.posting.announced import Ground
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.way import Carriage
from exchange.records.tables.base import Base, OfCircle, one_of


class WayTable(OfCircle, Base):
    __tablename__ = "way"

    name: Mapped[str]
    country: Mapped[str]
    carriage: Mapped[str]
    odds: Mapped[list[float]] = mapped_column(JSON())
    hand_over_weekdays: Mapped[list[int]]
    delivery_weekdays: Mapped[list[int]]
    cut_off_hour: Mapped[float]
    postage: Mapped[int | None]
    depot_offset_c: Mapped[float]
    quick: Mapped[bool]
    source: Mapped[str]
    used: Mapped[bool]

    __table_args__ = (
        UniqueConstraint("circle_id", "name"),
        CheckConstraint(one_of("carriage", Carriage), name="carriage"),
        CheckConstraint("postage >= 0", name="postage"),
    )


class RoutePointTable(OfCircle, Base):
    """The town parcels of a way go through; a way has one at most."""

    __tablename__ = "route_point"

    way_id: Mapped[int] = mapped_column(ForeignKey("way.id", ondelete="CASCADE"))
    town: Mapped[str]
    county: Mapped[str]
    country: Mapped[str]
    subdivision: Mapped[str]
    latitude: Mapped[float]
    longitude: Mapped[float]
    zone: Mapped[str]
    height_m: Mapped[float | None]

    __table_args__ = (
        UniqueConstraint("way_id"),
        CheckConstraint("latitude BETWEEN -90 AND 90", name="latitude"),
        CheckConstraint("longitude BETWEEN -180 AND 180", name="longitude"),
    )


class TariffBandTable(OfCircle, Base):
    """What a parcel of some size or weight costs, in the organiser's own words."""

    __tablename__ = "tariff_band"

    name: Mapped[str]
    price: Mapped[int]

    __table_args__ = (
        UniqueConstraint("circle_id", "name"),
        CheckConstraint("price >= 0", name="price"),
    )


class ParcelTable(OfCircle, Base):
    """A parcel and what was last planned for it."""

    __tablename__ = "parcel"

    code: Mapped[str]
    sender_household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    sender_place_id: Mapped[int] = mapped_column(ForeignKey("place.id"))
    receiver_household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    receiver_place_id: Mapped[int] = mapped_column(ForeignKey("place.id"))
    state: Mapped[str]
    way_id: Mapped[int | None] = mapped_column(ForeignKey("way.id"))
    chosen_way_id: Mapped[int | None] = mapped_column(ForeignKey("way.id"))
    posting_day: Mapped[date | None]
    arrival_from: Mapped[date | None]
    arrival_to: Mapped[date | None]
    loss_chance: Mapped[float | None]
    held: Mapped[bool]
    answer: Mapped[str | None]
    weather_source: Mapped[str]
    reasons: Mapped[list[str]]
    plan: Mapped[dict[str, Any]]
    announced_day: Mapped[date | None]
    announced_way_id: Mapped[int | None] = mapped_column(ForeignKey("way.id"))
    announced_at: Mapped[datetime | None]
    announced_loss: Mapped[float | None]
    day_chosen_by: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    nights_missing: Mapped[int | None]
    weather_issued_at: Mapped[datetime | None]
    question: Mapped[str | None]
    proposed_day: Mapped[date | None]
    day_kept: Mapped[bool]
    against_advice: Mapped[bool]
    waiting_since: Mapped[date | None]
    posted_on: Mapped[date | None]
    arrived_on: Mapped[date | None]
    missed_on: Mapped[date | None]
    condition: Mapped[str]
    asked_to_post_id: Mapped[int | None] = mapped_column(ForeignKey("household.id"))
    poster_household_id: Mapped[int | None] = mapped_column(ForeignKey("household.id"))
    postage: Mapped[int | None]
    postage_repaid: Mapped[bool]
    changed_at: Mapped[datetime]
    closed_at: Mapped[datetime | None]

    __table_args__ = (
        UniqueConstraint("circle_id", "code"),
        CheckConstraint(one_of("state", ParcelState), name="state"),
        CheckConstraint(one_of("answer", PostingAnswer), name="answer"),
        CheckConstraint("loss_chance BETWEEN 0 AND 1", name="loss_chance"),
        CheckConstraint("announced_loss BETWEEN 0 AND 1", name="announced_loss"),
        CheckConstraint("nights_missing >= 0", name="nights_missing"),
        CheckConstraint(one_of("question", Ground), name="question"),
        CheckConstraint("postage >= 0", name="postage"),
    )


class ParcelLineTable(OfCircle, Base):
    """Some plants of an allocation in a parcel; a must-not-be-lost allocation may be split."""

    __tablename__ = "parcel_line"

    parcel_id: Mapped[int] = mapped_column(ForeignKey("parcel.id", ondelete="CASCADE"), index=True)
    allocation_id: Mapped[int] = mapped_column(
        ForeignKey("allocation.id", ondelete="CASCADE"), index=True
    )
    count: Mapped[int]

    __table_args__ = (
        UniqueConstraint("parcel_id", "allocation_id"),
        CheckConstraint("count >= 1", name="count"),
    )


class ForecastTable(Base):
    """A forecast as it was fetched, kept as evidence for the plan; shared by all circles at a spot."""

    __tablename__ = "forecast"

    circle_id: Mapped[int] = mapped_column(ForeignKey("circle.id", ondelete="CASCADE"), index=True)
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id", ondelete="CASCADE"), index=True)
    source: Mapped[str]
    issued_at: Mapped[datetime]
    fetched_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    attribution: Mapped[str]
    grid_height_m: Mapped[float | None]
    grid_km: Mapped[float | None]
    readings: Mapped[dict[str, Any]]
    lacks: Mapped[list[str]]


class ForecastFaultTable(OfCircle, Base):
    """What went wrong when a forecast was asked for, in the users' words."""

    __tablename__ = "forecast_fault"

    source: Mapped[str]
    what: Mapped[str]
    at: Mapped[datetime]
    not_before: Mapped[datetime | None]


class DiaryTable(OfCircle, Base):
    """A dated entry with a stable key; the calendars read it."""

    __tablename__ = "diary_entry"

    key: Mapped[str]
    kind: Mapped[str]
    household_id: Mapped[int | None] = mapped_column(
        ForeignKey("household.id", ondelete="CASCADE"), index=True
    )
    parcel_id: Mapped[int | None] = mapped_column(ForeignKey("parcel.id", ondelete="CASCADE"))
    first_day: Mapped[date]
    last_day: Mapped[date]
    title: Mapped[str]
    text: Mapped[str]
    alarm_hours: Mapped[int | None]
    tentative: Mapped[bool]
    sequence: Mapped[int]
    content_changed_at: Mapped[datetime]
    cancelled_on: Mapped[date | None]

    __table_args__ = (
        UniqueConstraint("circle_id", "key", "household_id"),
        CheckConstraint("first_day <= last_day", name="in_order"),
    )
