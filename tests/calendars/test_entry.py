from datetime import date, timedelta

from exchange.calendars.entry import (
    GRACE_DAYS,
    MORNING_ALARM_HOURS,
    POSTING_ALARM_HOURS,
    kept,
    written,
)
from exchange.domain.diary import dispatch_diary
from tests.builders.calendars import CHANGED, a_season, an_entry
from tests.domain.test_diary import a_parcel

LATER = CHANGED + timedelta(days=3)


def test_what_did_not_change_is_the_very_same():
    entry = an_entry()

    assert kept([entry], [entry.written], LATER) == (entry,)


def test_new_words_change_the_stamp_but_not_the_sequence():
    (entry,) = kept([an_entry()], [an_entry(description="4 plants.").written], LATER)

    assert (entry.changed_at, entry.sequence) == (LATER, 0)


def test_a_moved_day_raises_the_sequence():
    (entry,) = kept([an_entry(sequence=2)], [an_entry(first=date(2027, 5, 4)).written], LATER)

    assert (entry.changed_at, entry.sequence) == (LATER, 3)


def test_what_is_gone_is_cancelled_and_dropped_after_its_grace():
    (off,) = kept([an_entry()], [], LATER)

    assert (off.sequence, off.cancelled_on, off.changed_at) == (1, LATER.date(), LATER)
    grace = LATER + timedelta(days=GRACE_DAYS)
    assert kept([off], [], grace) == (off,)
    assert kept([off], [], grace + timedelta(days=1)) == ()


def test_a_reader_who_looks_once_a_week_still_sees_it_cancelled():
    (off,) = kept([an_entry()], [], LATER)

    assert kept([off], [], LATER + timedelta(days=7)) == (off,)
    assert kept([off], [], LATER + timedelta(days=15)) == ()


def test_what_is_over_was_not_cancelled():
    past = an_entry(first=date(2027, 4, 1))

    assert kept([past], [], LATER) == (past,)
    assert kept([past], [], LATER + timedelta(days=90)) == ()


def test_what_comes_back_is_called_on_again():
    (off,) = kept([an_entry()], [], LATER)

    (back,) = kept([off], [an_entry().written], LATER + timedelta(days=1))

    assert (back.cancelled_on, back.sequence) == (None, 2)


def test_the_diary_is_written_with_the_reminder_that_helps():
    hours = {entry.written.key: entry.written.alarm_hours for entry in a_season().entries}

    assert hours["parcel-27-posting"] == POSTING_ALARM_HOURS
    assert hours["parcel-31-arrival"] == MORNING_ALARM_HOURS


def test_the_dispatch_calendar_names_both_first_names():
    (entry,) = dispatch_diary([a_parcel()])

    assert written(entry).summary == "Bramble 27: Maud to Colin"


def test_what_is_done_rings_no_more():
    (entry,) = dispatch_diary([a_parcel(posted=True)])

    assert written(entry).alarm_hours is None
