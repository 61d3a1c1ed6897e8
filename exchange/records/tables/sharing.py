from datetime import date, datetime
from typing import Any

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from exchange.domain.sharing.states import AllocationState, ShareOutState
from exchange.records.tables.base import Base, OfCircle, one_of


class ShareOutTable(OfCircle, Base):
    __tablename__ = "share_out"

    name: Mapped[str]
    opens_on: Mapped[date]
    closes_on: Mapped[date]
    draw_hash: Mapped[str]
    draw_number: Mapped[str]
    state: Mapped[str]
    worked_stamp: Mapped[int | None]
    worked_at: Mapped[datetime | None]
    confirmed_at: Mapped[datetime | None]
    proposal: Mapped[dict[str, Any] | None]
    working: Mapped[dict[str, Any] | None]

    __table_args__ = (
        CheckConstraint("opens_on <= closes_on", name="in_order"),
        CheckConstraint(one_of("state", ShareOutState), name="state"),
    )


class AnswerTable(OfCircle, Base):
    """What a claim got in a share-out, and why: one row per claim."""

    __tablename__ = "claim_answer"

    share_out_id: Mapped[int] = mapped_column(
        ForeignKey("share_out.id", ondelete="CASCADE"), index=True
    )
    claim_id: Mapped[int] = mapped_column(ForeignKey("claim.id", ondelete="CASCADE"), index=True)
    given: Mapped[int]
    reason: Mapped[dict[str, Any]]

    __table_args__ = (
        UniqueConstraint("share_out_id", "claim_id"),
        CheckConstraint("given >= 0", name="given"),
    )


class AllocationTable(OfCircle, Base):
    __tablename__ = "allocation"

    share_out_id: Mapped[int | None] = mapped_column(ForeignKey("share_out.id"), index=True)
    spare_id: Mapped[int] = mapped_column(ForeignKey("spare.id"), index=True)
    claim_id: Mapped[int] = mapped_column(ForeignKey("claim.id"), index=True)
    count: Mapped[int]
    state: Mapped[str]
    answered_at: Mapped[datetime | None]
    made_at: Mapped[datetime]

    __table_args__ = (
        CheckConstraint("count >= 1", name="count"),
        CheckConstraint(one_of("state", AllocationState), name="state"),
    )
