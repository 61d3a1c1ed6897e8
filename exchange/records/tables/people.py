from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint, func
from sqlalchemy.orm import Mapped, mapped_column

from exchange.domain.circle.place import Lie
from exchange.records.tables.base import Base, OfCircle, later, one_of

PURPOSES = (
    "invitation",
    "sign_in",
    "new_address",
    "did_it_go",
    "did_it_come",
    "sender_answer",
    "still_wanted",
)


class Account(Base):
    """One sign-in; may belong to several circles. The sign-in library's part is added in the app."""

    __tablename__ = "account"

    email: Mapped[str]
    password: Mapped[str | None]
    active: Mapped[bool]
    fs_uniquifier: Mapped[str] = mapped_column(unique=True)
    confirmed_at: Mapped[datetime | None]
    created_at: Mapped[datetime | None]
    wanted_email: Mapped[str | None]


Index("uq_account_email_lower", func.lower(Account.email), unique=True)


class HouseholdTable(OfCircle, Base):
    __tablename__ = "household"

    name: Mapped[str]
    posting_weekdays: Mapped[list[int]]
    parcels_a_day: Mapped[int]
    joined_on: Mapped[date | None]
    left_on: Mapped[date | None]
    address: Mapped[str]
    safe_place: Mapped[str]
    return_address_allowed: Mapped[bool]
    merged_into: Mapped[int | None] = mapped_column(later("household.id"))

    __table_args__ = (
        UniqueConstraint("circle_id", "name"),
        CheckConstraint("parcels_a_day BETWEEN 1 AND 100", name="parcels_a_day"),
    )


class MemberTable(OfCircle, Base):
    """A person of the circle; may have no account."""

    __tablename__ = "member"

    household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    account_id: Mapped[int | None] = mapped_column(
        ForeignKey("account.id", ondelete="SET NULL"), index=True
    )
    first_name: Mapped[str]
    surname: Mapped[str]
    email: Mapped[str | None]
    telephone: Mapped[str]
    telephone_allowed: Mapped[bool]
    on_ring_list: Mapped[bool]
    organiser: Mapped[bool]
    helper: Mapped[str]
    joined_at: Mapped[datetime]
    left_at: Mapped[datetime | None]
    erased_at: Mapped[datetime | None]
    merged_into: Mapped[int | None] = mapped_column(later("member.id"))

    __table_args__ = (UniqueConstraint("circle_id", "account_id"),)


class PlaceTable(OfCircle, Base):
    __tablename__ = "place"

    household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    name: Mapped[str]
    town: Mapped[str]
    county: Mapped[str]
    country: Mapped[str]
    subdivision: Mapped[str]
    latitude: Mapped[float]
    longitude: Mapped[float]
    zone: Mapped[str]
    height_m: Mapped[float | None]
    lie: Mapped[str]
    home_by: Mapped[int]
    letter_box: Mapped[bool]
    rural_extra_day: Mapped[bool]
    frost_rare_day: Mapped[int | None]

    __table_args__ = (
        CheckConstraint("latitude BETWEEN -90 AND 90", name="latitude"),
        CheckConstraint("longitude BETWEEN -180 AND 180", name="longitude"),
        CheckConstraint("home_by BETWEEN 0 AND 24", name="home_by"),
        CheckConstraint("frost_rare_day BETWEEN 1 AND 205", name="frost_rare_day"),
        CheckConstraint(one_of("lie", Lie), name="lie"),
    )


class ShelterTable(OfCircle, Base):
    __tablename__ = "shelter"

    place_id: Mapped[int] = mapped_column(ForeignKey("place.id", ondelete="CASCADE"), index=True)
    kind: Mapped[str]
    room_pots: Mapped[int | None]
    carried_in: Mapped[bool]

    __table_args__ = (
        UniqueConstraint("place_id", "kind"),
        CheckConstraint("room_pots >= 0", name="room_pots"),
    )


class AwayTable(OfCircle, Base):
    __tablename__ = "away"

    household_id: Mapped[int] = mapped_column(
        ForeignKey("household.id", ondelete="CASCADE"), index=True
    )
    first: Mapped[date]
    last: Mapped[date]
    cannot_receive: Mapped[bool]
    cannot_post: Mapped[bool]

    __table_args__ = (CheckConstraint("first <= last", name="in_order"),)


class LinkTable(Base):
    """A link that may be used once: an invitation, a sign-in by mail, a one-button answer."""

    __tablename__ = "one_time_link"

    sha256: Mapped[str] = mapped_column(unique=True)
    purpose: Mapped[str]
    member_id: Mapped[int] = mapped_column(ForeignKey("member.id", ondelete="CASCADE"))
    subject_id: Mapped[int | None]
    made_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    used_at: Mapped[datetime | None]

    __table_args__ = (CheckConstraint(one_of("purpose", PURPOSES), name="purpose"),)
