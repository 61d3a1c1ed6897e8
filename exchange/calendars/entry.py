"""What a calendar holds: plain values, written in advance and kept in the records."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from exchange.domain.arriving.step import StepKind
from exchange.domain.diary import DiaryEntry, EntryKind
from exchange.words.posting import diary as words

GRACE_DAYS = 10
"""How long a cancelled entry stays, so that every subscriber sees it cancelled [days]."""

PAST_DAYS = 60
"""How long what is over stays in a calendar [days]."""

POSTING_ALARM_HOURS = -6
"""Six in the evening before a posting day, when there is still time to pack [h from midnight]."""

MORNING_ALARM_HOURS = 8
"""Eight in the morning for what comes or is due [h from midnight]."""

COLD_NIGHT_ALARM_HOURS = 14
"""Two in the afternoon before a cold night, while it is light [h from midnight]."""


@dataclass(frozen=True, slots=True)
class Written:
    """One entry in words, as the diary has it now.

    Attributes
    ----------
    key : stable for as long as the entry means the same, lower-case ASCII
    first, last : days, both counted
    alarm_hours : hours from the midnight in which the first day begins; None for no alarm [h]
    tentative : whether its day is not announced yet: it spans the week, and reminds nobody
    """

    key: str
    first: date
    last: date
    summary: str
    description: str
    alarm_hours: int | None = None
    tentative: bool = False


def written(entry: DiaryEntry) -> Written:
    """Put an entry of the diary into words."""
    return Written(
        key=entry.key,
        first=entry.first,
        last=entry.last,
        summary=words.summary(entry),
        description=words.description(entry),
        alarm_hours=None if entry.done or entry.tentative else _alarm_hours(entry),
        tentative=entry.tentative,
    )


def _alarm_hours(entry: DiaryEntry) -> int:
    if entry.step is not None and entry.step.kind is StepKind.COLD_NIGHT:
        return COLD_NIGHT_ALARM_HOURS
    evening_before = entry.kind in {EntryKind.POSTING, EntryKind.DISPATCH}
    return POSTING_ALARM_HOURS if evening_before else MORNING_ALARM_HOURS


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """One entry as it is kept between two readings of the calendar.

    Attributes
    ----------
    changed_at : when its words or days last changed, UTC
    sequence : counts changes of its days or state; never goes down
    cancelled_on : the day it was cancelled, or None
    """

    written: Written
    changed_at: datetime
    sequence: int = 0
    cancelled_on: date | None = None


@dataclass(frozen=True, slots=True)
class CalendarFacts:
    """All that one calendar is made from.

    Attributes
    ----------
    uid_host : fixed for the installation, so that an entry has one UID in every calendar
    changed_at : when any entry, or the permission to see one, last changed, UTC; removals count
    today : the circle's day, from which the window is reckoned
    alarms : whether reminders are written
    page_url : the page a reader may open, or empty
    """

    name: str
    description: str
    entries: tuple[CalendarEntry, ...]
    changed_at: datetime
    today: date
    uid_host: str
    alarms: bool = True
    page_url: str = ""


def kept(
    before: Sequence[CalendarEntry], now_written: Iterable[Written], now: datetime
) -> tuple[CalendarEntry, ...]:
    """
    Carry entries on: what changed gets a new stamp, what is gone is cancelled, then dropped.

    An entry whose days are over when it goes was not cancelled: it stays as it was.

    Parameters
    ----------
    before : the entries as they were kept
    now_written : the entries as the diary has them now, each key once
    now : the instant, UTC

    Returns
    -------
    tuple of CalendarEntry
        In order of first day and key; entries that did not change are the very same values.
    """
    old = {entry.written.key: entry for entry in before}
    new = {written.key: written for written in now_written}
    carried = [_carried(old.get(key), written, now) for key, written in new.items()]
    gone = [_let_go(entry, now) for key, entry in old.items() if key not in new]
    staying = [entry for entry in gone if not _may_drop(entry, now)]
    return tuple(
        sorted(carried + staying, key=lambda entry: (entry.written.first, entry.written.key))
    )


def _carried(old: CalendarEntry | None, written: Written, now: datetime) -> CalendarEntry:
    if old is None:
        return CalendarEntry(written, now)
    if old.written == written and old.cancelled_on is None:
        return old
    moved = (old.written.first, old.written.last) != (written.first, written.last)
    back = old.cancelled_on is not None
    return CalendarEntry(written, now, old.sequence + (moved or back))


def _let_go(entry: CalendarEntry, now: datetime) -> CalendarEntry:
    if entry.cancelled_on is not None or entry.written.last < now.date():
        return entry
    return replace(entry, changed_at=now, sequence=entry.sequence + 1, cancelled_on=now.date())


def _may_drop(entry: CalendarEntry, now: datetime) -> bool:
    if entry.cancelled_on is not None:
        return now.date() > entry.cancelled_on + timedelta(days=GRACE_DAYS)
    return now.date() > entry.written.last + timedelta(days=PAST_DAYS)
