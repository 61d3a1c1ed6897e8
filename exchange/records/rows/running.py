"""Rows of the running house: tasks, letters waiting, calendar addresses, spreadsheets read in."""

from dataclasses import KW_ONLY, dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any, TypedDict

from exchange.records.rows.wanted import OneOf


class TaskState(StrEnum):
    """Where a task stands."""

    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"


UNDER_WAY = frozenset({TaskState.WAITING, TaskState.RUNNING})
"""States of a task that has not ended."""


class LetterState(StrEnum):
    """Where a letter stands; one by hand is to be handed over as text."""

    WAITING = "waiting"
    SENT = "sent"
    FAILED = "failed"
    BY_HAND = "by_hand"


TO_COPY = frozenset({LetterState.BY_HAND, LetterState.FAILED})
"""States of a letter that somebody has to hand over as text."""


@dataclass(frozen=True, slots=True)
class TaskRow:
    id: int
    _: KW_ONLY
    circle_id: int = 0
    kind: str
    subject_id: int | None = None
    state: TaskState = TaskState.WAITING
    stage: str = ""
    progress: float = 0.0
    cancel: bool = False
    error: str = ""
    asked_by: int | None = None
    asked_at: datetime
    claimed_at: datetime | None = None
    seen_at: datetime | None = None
    ended_at: datetime | None = None
    result: dict[str, Any] | None = None

    @property
    def under_way(self) -> bool:
        return self.state in UNDER_WAY


class TaskWhere(TypedDict, total=False):
    id: OneOf[int]
    kind: OneOf[str]
    subject_id: OneOf[int] | None
    state: OneOf[TaskState]
    cancel: OneOf[bool]


@dataclass(frozen=True, slots=True)
class LetterRow:
    id: int
    _: KW_ONLY
    circle_id: int = 0
    member_id: int
    key: str
    kind: str
    subject: str
    body: str
    state: LetterState = LetterState.WAITING
    tries: int = 0
    fault: str = ""
    written_at: datetime
    not_before: datetime | None = None
    sent_at: datetime | None = None
    to_address: str | None = None


class LetterChange(TypedDict, total=False):
    state: LetterState
    tries: int
    fault: str
    not_before: datetime | None
    sent_at: datetime | None


class LetterWhere(TypedDict, total=False):
    id: OneOf[int]
    member_id: OneOf[int]
    kind: OneOf[str]
    state: OneOf[LetterState]


@dataclass(frozen=True, slots=True)
class CalendarAddressRow:
    id: int
    _: KW_ONLY
    circle_id: int = 0
    member_id: int
    kind: str
    sha256: str
    made_at: datetime
    last_fetched_at: datetime | None = None
    last_fetched_by: str = ""
    changed_at: datetime
    revoked_at: datetime | None = None
    reminders: bool = True


class CalendarAddressChange(TypedDict, total=False):
    changed_at: datetime
    revoked_at: datetime | None
    reminders: bool


class CalendarAddressWhere(TypedDict, total=False):
    id: OneOf[int]
    member_id: OneOf[int]
    kind: OneOf[str]
    revoked_at: OneOf[datetime] | None


@dataclass(frozen=True, slots=True)
class SpreadsheetRow:
    """A file that was handed in.

    Attributes
    ----------
    content : the file in base 64; empty once it is no longer needed
    choices : what was said of it
    reading : what was understood, None while it is being read
    went_in : rows that went in [key of the row -> hash]
    made : what they made [noun -> id -> version]
    """

    id: int
    _: KW_ONLY
    name: str
    sha256: str
    content: str
    choices: dict[str, Any]
    reading: dict[str, Any] | None = None
    went_in: dict[str, Any]
    made: dict[str, Any]
    handed_in_by: int | None = None
    handed_in_at: datetime
    brought_in_at: datetime | None = None


class SpreadsheetChange(TypedDict, total=False):
    content: str
    choices: dict[str, Any]
    reading: dict[str, Any] | None
    went_in: dict[str, Any]
    made: dict[str, Any]
    brought_in_at: datetime | None


class SpreadsheetWhere(TypedDict, total=False):
    id: OneOf[int]
    sha256: OneOf[str]
