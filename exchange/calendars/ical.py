"""A calendar as bytes, after RFC 5545 and RFC 7986; the same facts give the same bytes."""

import hashlib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime

from icalendar import Alarm, Calendar, Event, vText

from exchange.calendars.entry import GRACE_DAYS, PAST_DAYS, CalendarEntry, CalendarFacts
from exchange.words.posting import diary as words

PRODUCT = "-//Growers' circle exchange//Calendar//EN"
REFRESH_HOURS = 6
AHEAD_DAYS = 400
MOST_ENTRIES = 500
LONGEST_LINE = 150
LONGEST_DESCRIPTION = 1500
COLOUR = "seagreen"

_DROPPED = frozenset({"Cc", "Cf", "Cs", "Cn"})


@dataclass(frozen=True, slots=True)
class ServedCalendar:
    """What a reader of the calendar is sent.

    Attributes
    ----------
    etag : strong, without its quotes
    last_modified : whole seconds, UTC
    """

    body: bytes
    etag: str
    last_modified: datetime

    @property
    def headers(self) -> dict[str, str]:
        """The headers that go with the body."""
        return {
            "Content-Type": "text/calendar; charset=utf-8",
            "Content-Disposition": 'inline; filename="circle.ics"',
            "Cache-Control": "private, no-cache",
            "ETag": f'"{self.etag}"',
            "Last-Modified": format_datetime(self.last_modified, usegmt=True),
            "X-Robots-Tag": "noindex, nofollow",
            "Referrer-Policy": "no-referrer",
            "X-Content-Type-Options": "nosniff",
        }


class ClockWithoutZoneError(ValueError):
    """An instant without a zone, which a calendar could only misread."""


def served(facts: CalendarFacts) -> ServedCalendar:
    """Give the calendar with the headers it is served with."""
    body = calendar_bytes(facts)
    return ServedCalendar(body, etag(body), _whole_second(facts.changed_at))


def etag(body: bytes) -> str:
    """Give the strong ETag of a body, without quotes."""
    return hashlib.sha256(body).hexdigest()


def calendar_bytes(facts: CalendarFacts) -> bytes:
    """
    Give the calendar as text/calendar in UTF-8.

    Raises
    ------
    ClockWithoutZoneError
        When an instant has no zone.
    """
    shown, left_out = _window(facts)
    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("CALSCALE", "GREGORIAN")
    calendar.add("METHOD", "PUBLISH")
    name = vText(plain(facts.name, LONGEST_LINE))
    description = vText(plain(_described(facts, left_out), LONGEST_DESCRIPTION))
    calendar.add("NAME", name)
    calendar.add("X-WR-CALNAME", name)
    calendar.add("DESCRIPTION", description)
    calendar.add("X-WR-CALDESC", description)
    calendar.add("COLOR", COLOUR)
    refresh = timedelta(hours=REFRESH_HOURS)
    calendar.add("REFRESH-INTERVAL", refresh, parameters={"VALUE": "DURATION"})
    calendar.add("X-PUBLISHED-TTL", vText(f"PT{REFRESH_HOURS}H"))
    calendar.add("LAST-MODIFIED", _whole_second(facts.changed_at))
    if facts.page_url:
        calendar.add("URL", facts.page_url)
    for entry in shown:
        calendar.add_component(_event(entry, facts))
    body: bytes = calendar.to_ical()
    return body


def _window(facts: CalendarFacts) -> tuple[list[CalendarEntry], int]:
    """Give the entries shown, in order, and how many the cap left out."""
    first = facts.today - timedelta(days=PAST_DAYS)
    last = facts.today + timedelta(days=AHEAD_DAYS)
    inside = [
        entry
        for entry in facts.entries
        if entry.written.last >= first
        and entry.written.first <= last
        and not _grace_is_over(entry, facts)
    ]
    inside.sort(key=lambda entry: (entry.written.first, entry.written.key))
    over = max(0, len(inside) - MOST_ENTRIES)
    if over:
        to_come = [entry for entry in inside if entry.written.last >= facts.today]
        past = inside[: len(inside) - len(to_come)]
        room_for_past = max(0, MOST_ENTRIES - len(to_come))
        inside = [*past[len(past) - room_for_past :], *to_come][:MOST_ENTRIES]
    return inside, over


def _grace_is_over(entry: CalendarEntry, facts: CalendarFacts) -> bool:
    if entry.cancelled_on is None:
        return False
    return facts.today > entry.cancelled_on + timedelta(days=GRACE_DAYS)


def _described(facts: CalendarFacts, left_out: int) -> str:
    if not left_out:
        return facts.description
    note = f"{left_out} entries are left out here; the page shows them all."
    return f"{note} {facts.description}"


def _event(entry: CalendarEntry, facts: CalendarFacts) -> Event:
    written = entry.written
    changed = _whole_second(entry.changed_at)
    is_off = entry.cancelled_on is not None
    line = words.cancelled(written.summary) if is_off else written.summary
    event = Event()
    event.add("UID", f"{written.key}@{facts.uid_host}")
    event.add("DTSTAMP", changed)
    event.add("LAST-MODIFIED", changed)
    event.add("SEQUENCE", entry.sequence)
    event.add("DTSTART", written.first)
    event.add("DTEND", max(written.first, written.last) + timedelta(days=1))
    event.add("SUMMARY", plain(line, LONGEST_LINE))
    event.add("DESCRIPTION", plain(written.description, LONGEST_DESCRIPTION))
    settled = "TENTATIVE" if written.tentative else "CONFIRMED"
    event.add("STATUS", "CANCELLED" if is_off else settled)
    event.add("TRANSP", "TRANSPARENT")
    if facts.alarms and not is_off and written.alarm_hours is not None:
        event.add_component(_alarm(plain(line, LONGEST_LINE), written.alarm_hours))
    return event


def _alarm(line: str, hours: int) -> Alarm:
    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", line)
    alarm.add("TRIGGER", timedelta(hours=hours))
    return alarm


def plain(text: str, longest: int) -> str:
    """Give the text without control and direction marks, in one normal form, not too long."""
    normal = unicodedata.normalize("NFC", text[: longest * 2].replace("\r\n", "\n"))
    kept = "".join(_without(normal)).strip()
    return kept if len(kept) <= longest else kept[: longest - 1].rstrip() + "…"


def _without(text: str) -> Iterable[str]:
    for sign in text:
        joins_emoji = sign == "\u200d"
        if sign == "\n" or joins_emoji or unicodedata.category(sign) not in _DROPPED:
            yield sign


def _whole_second(instant: datetime) -> datetime:
    if instant.utcoffset() is None:
        raise ClockWithoutZoneError(f"{instant} has no zone")
    return instant.astimezone(UTC).replace(microsecond=0)
