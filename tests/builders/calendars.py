"""Builders for calendars: entries, facts and a whole season of a household."""

from datetime import UTC, date, datetime, timedelta

from exchange.calendars.entry import CalendarEntry, CalendarFacts, Written, kept, written
from exchange.domain.diary import ParcelDates, household_diary
from tests.builders.arrivals import a_line, a_window, steps_of

CHANGED = datetime(2027, 4, 5, 9, 30, 15, 250_000, tzinfo=UTC)
TODAY = date(2027, 4, 20)


def an_entry(key="parcel-1-posting", first=date(2027, 4, 27), days=1, **more):
    values = {"summary": "Post Bramble 27 to Colin", "description": "3 plants.", "alarm_hours": -6}
    rest = {"changed_at": CHANGED}
    for name, value in more.items():
        (values if name in values else rest)[name] = value
    last = first + timedelta(days=days - 1)
    return CalendarEntry(Written(key, first, last, **values), **rest)


def a_calendar(*entries, **more):
    values = {
        "name": "Maud’s parcels",
        "description": "What you post and what comes to you.",
        "entries": entries,
        "changed_at": CHANGED,
        "today": TODAY,
        "uid_host": "circle.example",
    }
    return CalendarFacts(**(values | more))


def a_season():
    """Give the calendar of a household that posts one parcel and gets another."""
    window = a_window()
    dates = {
        "posting_day": date(2027, 4, 27),
        "expected": window,
        "plants": 3,
        "care": steps_of([a_line()], window=window),
    }
    parcels = [
        ParcelDates(27, "Bramble 27", 1, 2, "Maud", "Colin", **dates),
        ParcelDates(31, "Elder 31", 2, 1, "Colin", "Maud", **dates),
    ]
    lines = [written(entry) for entry in household_diary(1, parcels)]
    return a_calendar(*kept((), lines, CHANGED))
