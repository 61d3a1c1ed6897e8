from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from exchange.domain.circle.moves import MergerKind
from exchange.records.tables.base import Base, OfCircle, one_of


class CircleTable(Base):
    __tablename__ = "circle"

    name: Mapped[str] = mapped_column(unique=True)
    country: Mapped[str]
    zone: Mapped[str]
    about_how_many: Mapped[int]
    terms: Mapped[dict[str, Any]]
    fixed_today: Mapped[date | None]
    stamp: Mapped[int]
    created_at: Mapped[datetime]

    __table_args__ = (CheckConstraint("about_how_many > 0", name="about_how_many"),)


class ClosureTable(OfCircle, Base):
    """A day on which a way takes in or delivers nothing; beside the public holidays."""

    __tablename__ = "closure"

    country: Mapped[str]
    subdivision: Mapped[str]
    day: Mapped[date]
    label: Mapped[str]
    opened: Mapped[bool]

    __table_args__ = (UniqueConstraint("circle_id", "country", "subdivision", "day"),)


class MergerTable(OfCircle, Base):
    """Two varieties or two members made one: what moved, so that it can be taken back."""

    __tablename__ = "merger"

    kind: Mapped[str]
    kept_id: Mapped[int]
    merged_id: Mapped[int]
    moves: Mapped[list[Any]] = mapped_column(JSON())
    watched: Mapped[list[int]]
    done_by: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    done_at: Mapped[datetime]
    undone_at: Mapped[datetime | None]

    __table_args__ = (CheckConstraint(one_of("kind", MergerKind), name="kind"),)


class DeedTable(OfCircle, Base):
    """Who did what."""

    __tablename__ = "deed"

    actor_id: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    for_member_id: Mapped[int | None] = mapped_column(
        ForeignKey("member.id", ondelete="SET NULL"), index=True
    )
    act: Mapped[str]
    what: Mapped[str]
    done_at: Mapped[datetime]
