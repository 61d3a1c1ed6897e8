"""Tables of the running house: tasks, letters waiting, calendar addresses, spreadsheets read in."""

from datetime import datetime
from typing import Any

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from exchange.records.rows.running import LetterState, TaskState
from exchange.records.tables.base import Base, OfCircle, one_of


class TaskTable(OfCircle, Base):
    __tablename__ = "task"

    kind: Mapped[str]
    subject_id: Mapped[int | None]
    state: Mapped[str]
    stage: Mapped[str]
    progress: Mapped[float]
    cancel: Mapped[bool]
    error: Mapped[str]
    asked_by: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    asked_at: Mapped[datetime]
    claimed_at: Mapped[datetime | None]
    seen_at: Mapped[datetime | None]
    ended_at: Mapped[datetime | None]
    result: Mapped[dict[str, Any] | None]

    __table_args__ = (
        CheckConstraint(one_of("state", TaskState), name="state"),
        CheckConstraint("progress BETWEEN 0 AND 1", name="progress"),
    )


class LetterTable(OfCircle, Base):
    """A letter written by the program: waiting, sent, or to be handed over as text."""

    __tablename__ = "letter"

    member_id: Mapped[int] = mapped_column(ForeignKey("member.id", ondelete="CASCADE"), index=True)
    key: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    subject: Mapped[str]
    body: Mapped[str]
    state: Mapped[str]
    tries: Mapped[int]
    fault: Mapped[str]
    written_at: Mapped[datetime]
    not_before: Mapped[datetime | None]
    sent_at: Mapped[datetime | None]
    to_address: Mapped[str | None]

    __table_args__ = (CheckConstraint(one_of("state", LetterState), name="state"),)


class CalendarTable(OfCircle, Base):
    """The secret address of a calendar; only its hash is kept."""

    __tablename__ = "calendar_address"

    member_id: Mapped[int] = mapped_column(ForeignKey("member.id", ondelete="CASCADE"), index=True)
    kind: Mapped[str]
    sha256: Mapped[str] = mapped_column(unique=True)
    made_at: Mapped[datetime]
    last_fetched_at: Mapped[datetime | None]
    last_fetched_by: Mapped[str]
    changed_at: Mapped[datetime]
    revoked_at: Mapped[datetime | None]
    reminders: Mapped[bool]

    __table_args__ = (
        UniqueConstraint("member_id", "kind", "sha256"),
        CheckConstraint(one_of("kind", ("member", "dispatch")), name="kind"),
    )


class SpreadsheetTable(OfCircle, Base):
    """A file that was handed in, what was said of it, what was understood, and what went in."""

    __tablename__ = "spreadsheet"

    name: Mapped[str]
    sha256: Mapped[str] = mapped_column(index=True)
    content: Mapped[str]
    choices: Mapped[dict[str, Any]]
    reading: Mapped[dict[str, Any] | None]
    went_in: Mapped[dict[str, Any]]
    made: Mapped[dict[str, Any]]
    handed_in_by: Mapped[int | None] = mapped_column(ForeignKey("member.id", ondelete="SET NULL"))
    handed_in_at: Mapped[datetime]
    brought_in_at: Mapped[datetime | None]
