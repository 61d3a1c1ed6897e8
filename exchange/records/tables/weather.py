"""Tables of the weather at places: notes of frost, what was observed, own daily files, what was learned."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from exchange.records.tables.base import Base, OfCircle


class OfPlace(OfCircle):
    """A row that belongs to one place and goes with it."""

    place_id: Mapped[int] = mapped_column(ForeignKey("place.id", ondelete="CASCADE"), index=True)


class FrostNoteTable(OfPlace, Base):
    """What a member heard of one night to come; a later note on the night takes its place."""

    __tablename__ = "frost_note"

    night: Mapped[date]
    minimum_c: Mapped[float]
    heard_at: Mapped[datetime]

    __table_args__ = (
        UniqueConstraint("place_id", "night"),
        CheckConstraint("minimum_c BETWEEN -60 AND 60", name="minimum_c"),
    )


class DailyFileTable(OfPlace, Base):
    """A daily file a household brought: looked at first, then kept whole, with the climate it tells."""

    __tablename__ = "daily_file"

    name: Mapped[str]
    days: Mapped[list[Any]] = mapped_column(JSON())
    climate: Mapped[dict[str, Any] | None]
    read_at: Mapped[datetime]
    kept_at: Mapped[datetime | None]


class ObservationTable(OfPlace, Base):
    """The minimum of the night that ends on a day, as somebody there read it or as a file tells."""

    __tablename__ = "observation"

    day: Mapped[date]
    minimum_c: Mapped[float]
    maximum_c: Mapped[float | None]
    file_id: Mapped[int | None] = mapped_column(
        ForeignKey("daily_file.id", ondelete="CASCADE"), index=True
    )

    __table_args__ = (
        UniqueConstraint("place_id", "day"),
        CheckConstraint("minimum_c BETWEEN -60 AND 60", name="minimum_c"),
        CheckConstraint("maximum_c BETWEEN -60 AND 60", name="maximum_c"),
    )


class PlaceSkillTable(OfPlace, Base):
    """How good forecasts are at a place, as learned there; the latest row counts."""

    __tablename__ = "place_skill"

    days: Mapped[float]
    site_error_k: Mapped[float]
    shift_k: Mapped[float]
    nights: Mapped[int]
    crps_before_k: Mapped[float]
    crps_after_k: Mapped[float]
    kept_at: Mapped[datetime]

    __table_args__ = (
        CheckConstraint("days > 0", name="days"),
        CheckConstraint("site_error_k >= 0", name="site_error_k"),
        CheckConstraint("nights > 0", name="nights"),
    )
