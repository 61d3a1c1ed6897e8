from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Keeps, Species
from exchange.records.tables.base import Base, OfCircle, later, one_of


class PlantClassTable(OfCircle, Base):
    """A group or a size that varieties of one kind are classed in, as its society names it."""

    __tablename__ = "plant_class"

    species: Mapped[str]
    sort: Mapped[str]
    label: Mapped[str]
    society: Mapped[str]
    position: Mapped[int]

    __table_args__ = (
        UniqueConstraint("circle_id", "species", "sort", "label", "society"),
        CheckConstraint(one_of("species", Species), name="species"),
        CheckConstraint(one_of("sort", ClassSort), name="sort"),
    )


class VarietyTable(OfCircle, Base):
    __tablename__ = "variety"

    species: Mapped[str]
    name: Mapped[str]
    folded: Mapped[str]
    keeps: Mapped[str]
    must_not_be_lost: Mapped[bool]
    must_not_be_lost_because: Mapped[str]
    target_places: Mapped[int]
    protected: Mapped[bool]
    authority: Mapped[str]
    trade_name: Mapped[str]
    group_id: Mapped[int | None] = mapped_column(ForeignKey("plant_class.id", ondelete="SET NULL"))
    size_id: Mapped[int | None] = mapped_column(ForeignKey("plant_class.id", ondelete="SET NULL"))
    merged_into: Mapped[int | None] = mapped_column(later("variety.id"))
    removed_at: Mapped[datetime | None]

    __table_args__ = (
        UniqueConstraint("circle_id", "species", "folded"),
        CheckConstraint(one_of("species", Species), name="species"),
        CheckConstraint(one_of("keeps", Keeps), name="keeps"),
        CheckConstraint("target_places BETWEEN 1 AND 100", name="target_places"),
    )


class BatchTable(OfCircle, Base):
    __tablename__ = "batch"

    variety_id: Mapped[int] = mapped_column(ForeignKey("variety.id"), index=True)
    household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True)
    material: Mapped[str]
    raised: Mapped[str]
    plants: Mapped[int]
    shelter: Mapped[str | None]
    origin: Mapped[str]
    since: Mapped[date | None]

    __table_args__ = (
        CheckConstraint("plants BETWEEN 0 AND 10000", name="plants"),
        CheckConstraint(one_of("material", Material), name="material"),
        CheckConstraint(one_of("raised", Raised), name="raised"),
    )


class SpareTable(OfCircle, Base):
    __tablename__ = "spare"

    household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"))
    variety_id: Mapped[int] = mapped_column(ForeignKey("variety.id"), index=True)
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id", ondelete="SET NULL"))
    material: Mapped[str]
    raised: Mapped[str]
    count: Mapped[int]
    allocated: Mapped[int]
    ready_from: Mapped[date]
    send_by: Mapped[date]
    set_aside_for: Mapped[int | None] = mapped_column(ForeignKey("household.id"))
    roots_seen: Mapped[bool]
    health_by: Mapped[str]
    health_on: Mapped[date | None]
    note: Mapped[str]
    held: Mapped[bool]
    listed_at: Mapped[datetime]
    entered_by: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    withdrawn_at: Mapped[datetime | None]

    __table_args__ = (
        CheckConstraint("count BETWEEN 1 AND 1000", name="count"),
        CheckConstraint("allocated BETWEEN 0 AND count", name="allocated"),
        CheckConstraint("ready_from <= send_by", name="window"),
        CheckConstraint(one_of("material", Material), name="material"),
        CheckConstraint(one_of("raised", Raised), name="raised"),
    )


class ClaimTable(OfCircle, Base):
    __tablename__ = "claim"

    household_id: Mapped[int] = mapped_column(ForeignKey("household.id"), index=True)
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"))
    variety_id: Mapped[int] = mapped_column(ForeignKey("variety.id"), index=True)
    asked: Mapped[int]
    choice: Mapped[int]
    materials: Mapped[list[str]]
    no_use_after: Mapped[date | None]
    alternatives: Mapped[list[int]]
    set_aside: Mapped[bool]
    made_at: Mapped[datetime]
    entered_by: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    wanted_at: Mapped[datetime | None]
    questioned_at: Mapped[datetime | None]
    lapsed_at: Mapped[datetime | None]
    withdrawn_at: Mapped[datetime | None]

    __table_args__ = (
        CheckConstraint("asked BETWEEN 1 AND 100", name="asked"),
        CheckConstraint("choice BETWEEN 1 AND 3", name="choice"),
    )
