"""Calendars against RFC 5545 (https://www.rfc-editor.org/rfc/rfc5545) and RFC 7986."""

from datetime import UTC, date, datetime, timedelta

import ics
import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from exchange.calendars.entry import GRACE_DAYS
from exchange.calendars.ical import (
    LONGEST_DESCRIPTION,
    MOST_ENTRIES,
    ClockWithoutZoneError,
    calendar_bytes,
    etag,
    plain,
    served,
)
from tests.builders.calendars import CHANGED, TODAY, a_calendar, a_season, an_entry

ODD = "Zoë, feed; \\x\r\nBEGIN:VEVENT\nEND:VEVENT\x00\u202e"


def lines_of(body):
    return body.decode().replace("\r\n ", "").split("\r\n")


def only_event(body):
    (event,) = Calendar.from_ical(body).walk("VEVENT")
    return event


def test_lines_end_in_crlf_and_fold_at_75_octets():
    """RFC 5545 section 3.1: lines end in CRLF and should be no longer than 75 octets without it."""
    body = calendar_bytes(a_calendar(an_entry(description="ł漢🌱" * 200)))

    assert body.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in body.replace(b"\r\n", b"")
    assert not body.startswith(b"\xef\xbb\xbf")
    for line in body.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()


@pytest.mark.parametrize("shift", range(8))
def test_no_fold_cuts_a_character_at_any_offset(shift):
    text = "x" * shift + "é漢🌱" * 60

    assert (
        str(only_event(calendar_bytes(a_calendar(an_entry(description=text))))["DESCRIPTION"])
        == text
    )


def test_the_end_of_a_whole_day_is_the_day_after():
    """RFC 5545 section 3.6.1: DTEND is the non-inclusive end; its example gives 28 June to 9 July 2007
    as DTSTART;VALUE=DATE:20070628, DTEND;VALUE=DATE:20070709, which is 11 days."""
    body = calendar_bytes(
        a_calendar(an_entry(first=date(2007, 6, 28), days=11), today=date(2007, 6, 1))
    )

    lines = lines_of(body)
    assert "DTSTART;VALUE=DATE:20070628" in lines
    assert "DTEND;VALUE=DATE:20070709" in lines


def test_text_is_escaped_as_the_rule_says():
    """RFC 5545 section 3.3.11: backslash, semicolon, comma and line break are written with a backslash."""
    lines = lines_of(calendar_bytes(a_calendar(an_entry(summary="a\\b; c, d", description="x\ny"))))

    assert "SUMMARY:a\\\\b\\; c\\, d" in lines
    assert "DESCRIPTION:x\\ny" in lines


def test_properties_every_reader_needs_are_there():
    """RFC 5545 section 3.6.1 asks for UID and DTSTAMP; RFC 7986 section 5.7 for VALUE=DURATION."""
    lines = lines_of(calendar_bytes(a_calendar(an_entry(), page_url="https://circle.example/p")))

    for line in (
        "METHOD:PUBLISH",
        "VERSION:2.0",
        "REFRESH-INTERVAL;VALUE=DURATION:PT6H",
        "X-PUBLISHED-TTL:PT6H",
        "NAME:Maud’s parcels",
        "X-WR-CALNAME:Maud’s parcels",
        "UID:parcel-1-posting@circle.example",
        "DTSTAMP:20270405T093015Z",
        "LAST-MODIFIED:20270405T093015Z",
        "SEQUENCE:0",
        "TRANSP:TRANSPARENT",
        "STATUS:CONFIRMED",
        "URL:https://circle.example/p",
    ):
        assert line in lines
    assert "BEGIN:VTIMEZONE" not in lines
    assert not [line for line in lines if line.startswith(("ATTENDEE", "ORGANIZER"))]
    before_events = lines[: lines.index("BEGIN:VEVENT")]
    assert not [line for line in before_events if line.startswith("UID")]


def test_names_cannot_bring_in_lines_of_their_own():
    body = calendar_bytes(
        a_calendar(an_entry(summary=ODD, description=ODD), name=ODD, description=ODD)
    )

    read = Calendar.from_ical(body)
    assert len(read.walk("VEVENT")) == 1
    assert b"\x00" not in body
    assert "\u202e" not in body.decode()
    assert lines_of(body).count("BEGIN:VEVENT") == 1


def test_a_reminder_is_a_display_alarm_with_its_three_parts():
    """RFC 5545 section 3.6.6: a display alarm has ACTION, DESCRIPTION and TRIGGER, once each."""
    (alarm,) = only_event(calendar_bytes(a_calendar(an_entry()))).walk("VALARM")

    assert (alarm["ACTION"], str(alarm["DESCRIPTION"])) == ("DISPLAY", "Post Bramble 27 to Colin")
    assert alarm["TRIGGER"].dt == timedelta(hours=-6)


@pytest.mark.parametrize(
    "calendar",
    [
        a_calendar(an_entry(), alarms=False),
        a_calendar(an_entry(alarm_hours=None)),
        a_calendar(an_entry(cancelled_on=TODAY)),
    ],
)
def test_no_reminder_where_none_is_wanted(calendar):
    assert not only_event(calendar_bytes(calendar)).walk("VALARM")


def test_a_cancelled_entry_says_so_until_its_grace_is_over():
    entry = an_entry(cancelled_on=TODAY, sequence=1)
    last = TODAY + timedelta(days=GRACE_DAYS)

    event = only_event(calendar_bytes(a_calendar(entry, today=last)))

    assert (event["STATUS"], event["SEQUENCE"]) == ("CANCELLED", 1)
    assert str(event["SUMMARY"]) == "Cancelled: Post Bramble 27 to Colin"
    gone = calendar_bytes(a_calendar(entry, today=last + timedelta(days=1)))
    assert not Calendar.from_ical(gone).walk("VEVENT")


def test_the_window_leaves_out_what_is_long_past_or_far_off():
    days = [TODAY + timedelta(days=n) for n in (-61, -60, 400, 401)]
    entries = [an_entry(f"parcel-{n}-posting", day) for n, day in enumerate(days)]

    body = calendar_bytes(a_calendar(*entries))

    starts = [event["DTSTART"].dt for event in Calendar.from_ical(body).walk("VEVENT")]
    assert starts == days[1:3]


def test_more_than_the_cap_leaves_out_the_past_first_and_says_so():
    entries = [
        an_entry(f"parcel-{n}-posting", TODAY + timedelta(days=n // 10 - 5))
        for n in range(MOST_ENTRIES + 30)
    ]

    body = calendar_bytes(a_calendar(*entries))

    events = Calendar.from_ical(body).walk("VEVENT")
    assert len(events) == MOST_ENTRIES
    assert min(event["DTSTART"].dt for event in events) == TODAY + timedelta(days=-2)
    assert "30 entries are left out here" in body.decode().replace("\r\n ", "")
    assert len(body) < 250_000


def test_a_long_description_is_cut():
    event = only_event(calendar_bytes(a_calendar(an_entry(description="x" * 20_000))))

    assert len(str(event["DESCRIPTION"])) == LONGEST_DESCRIPTION


def test_an_instant_without_a_zone_is_refused():
    naive = datetime(2027, 4, 5, 9, 30)

    with pytest.raises(ClockWithoutZoneError):
        calendar_bytes(a_calendar(an_entry(changed_at=naive)))


def test_the_etag_follows_the_body_and_nothing_else():
    first = served(a_calendar(an_entry()))

    assert first.etag == served(a_calendar(an_entry())).etag == etag(first.body)
    assert first.etag != served(a_calendar(an_entry(description="4 plants."))).etag
    assert first.headers["ETag"] == f'"{first.etag}"'
    assert first.headers["Last-Modified"] == "Mon, 05 Apr 2027 09:30:15 GMT"
    assert first.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert first.headers["Cache-Control"] == "private, no-cache"


def test_three_other_readers_read_the_same_days():
    body = calendar_bytes(a_season())
    text = body.decode()

    wanted = {
        f"{entry.written.key}@circle.example": (
            entry.written.first,
            entry.written.last + timedelta(days=1),
        )
        for entry in a_season().entries
    }
    by_icalendar = {
        str(event["UID"]): (event["DTSTART"].dt, event["DTEND"].dt)
        for event in Calendar.from_ical(body).walk("VEVENT")
    }
    by_vobject = {
        event.uid.value: (event.dtstart.value, event.dtend.value)
        for event in vobject.readOne(text).vevent_list
    }
    by_ics = {
        event.uid: (event.begin.date(), event.end.date()) for event in ics.Calendar(text).events
    }
    assert len(wanted) > 8
    assert by_icalendar == by_vobject == wanted
    assert by_ics == wanted


def test_a_season_names_no_surname_and_no_address():
    text = calendar_bytes(a_season()).decode()

    assert "Colin" in text
    for private in ("Strake", "Pellow", "Gill Row", "Arrow Foot"):
        assert private not in text


@settings(max_examples=30, deadline=None)
@given(
    summary=st.text(max_size=80),
    description=st.text(max_size=200),
    name=st.text(max_size=60),
    first=st.dates(date(2027, 3, 1), date(2028, 4, 1)),
    days=st.integers(1, 9),
)
def test_any_words_come_back_as_they_were_meant(summary, description, name, first, days):
    calendar = a_calendar(
        an_entry("k", first, days, summary=summary, description=description), name=name
    )

    read = Calendar.from_ical(calendar_bytes(calendar))

    (event,) = read.walk("VEVENT")
    assert str(event.get("SUMMARY", "")) == plain(summary, 150)
    assert str(event.get("DESCRIPTION", "")) == plain(description, LONGEST_DESCRIPTION)
    escaped = plain(name, 150)
    for sign in ("\\", ";", ","):
        escaped = escaped.replace(sign, "\\" + sign)
    assert str(read["X-WR-CALNAME"]) == escaped.replace("\n", "\\n")
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (first, first + timedelta(days=days))
    assert event["DTSTAMP"].dt == CHANGED.replace(microsecond=0)
    assert CHANGED.tzinfo is UTC
