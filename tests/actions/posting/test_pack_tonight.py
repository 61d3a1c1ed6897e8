"""Pack tonight, or wait: said the day before and on the day, each once, by each sender's clock."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.actions.kernel.letters import letters_by_hand
from exchange.actions.posting.pack_tonight import is_pack_hour, pack_tonight
from exchange.actions.posting.parcels import say_posted
from exchange.mail.sending import MailServer
from exchange.records import LETTERS, MEMBERS, PLACES
from exchange.records.rows.running import LetterState
from tests.app_fixtures import a_house
from tests.builders.season import MONDAY, a_season, morning, tell_weather

SUNDAY, TUESDAY, WEDNESDAY = (MONDAY + timedelta(days=n) for n in (-1, 1, 2))
NEXT_MONDAY = MONDAY + timedelta(days=7)


@pytest.fixture
def season(tmp_path):
    """Plants given on Saturday, ready on Monday, the next days all mild."""
    with a_house(tmp_path) as house:
        made = a_season(house, now=morning(SUNDAY, 9))
        tell_weather(made, morning(SUNDAY, 9))
        made.plan(morning(SUNDAY, 10))
        yield made


def letters(season, kind, first_name="Winnie"):
    member = season.ring[first_name]
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, member_id=member.id, kind=kind)


def test_at_noon_the_day_before_the_sender_is_told_to_pack(season):
    assert {one.announced_day for one in season.parcels()} == {MONDAY}

    told = pack_tonight(season.clock, morning(SUNDAY, 12))

    assert set(told.to_pack) == {one.code for one in season.parcels()}
    assert told.to_wait == ()
    subjects = [one.subject for one in letters(season, "pack_tonight")]
    assert len(subjects) == 2
    assert all("post on Mon\u00a05\u00a0April" in subject for subject in subjects)
    assert letters(season, "pack_tonight", "Effie") == ()


def test_the_letter_says_what_is_in_it_and_when_to_wait_after_all(season):
    pack_tonight(season.clock, morning(SUNDAY, 12))
    letter = letters(season, "pack_tonight")[0]

    assert "1\u00a0rooted cutting of Dahlia\u00a0‘Chapel Lantern’" in letter.body
    assert "or less is forecast at either end, wait." in letter.body
    assert "/parcels/" in letter.body


def test_asked_twice_at_noon_it_is_said_once(season):
    for minute in (0, 5, 40):
        pack_tonight(season.clock, morning(SUNDAY, 12) + timedelta(minutes=minute))

    assert len(letters(season, "pack_tonight")) == 2


def test_in_the_evening_nothing_is_said_again_where_nothing_changed(season):
    pack_tonight(season.clock, morning(SUNDAY, 12))
    pack_tonight(season.clock, morning(SUNDAY, 18))

    assert len(letters(season, "pack_tonight")) == 2


def test_in_the_evening_what_changed_is_said(season):
    pack_tonight(season.clock, morning(SUNDAY, 12))
    tell_weather(season, morning(SUNDAY, 17), frost=(MONDAY, TUESDAY, WEDNESDAY))

    told = pack_tonight(season.clock, morning(SUNDAY, 18))

    assert told.to_pack == ()
    assert set(told.to_wait) == {one.code for one in season.parcels()}
    waiting = letters(season, "wait_tonight")
    assert len(waiting) == 2
    for letter in waiting:
        assert letter.subject.startswith("Wait with ")
        assert "frost at the" in letter.body
        assert "about the week of Mon\u00a012\u00a0April" in letter.body
    assert {one.announced_day for one in season.parcels()} == {None}
    assert {one.posting_day for one in season.parcels()} == {NEXT_MONDAY}


def test_the_receiver_hears_of_the_move_and_the_sender_not_twice(season):
    tell_weather(season, morning(SUNDAY, 11), frost=(MONDAY, TUESDAY, WEDNESDAY))
    pack_tonight(season.clock, morning(SUNDAY, 12))

    assert len(letters(season, "moved", "Effie")) == 1
    assert letters(season, "moved", "Winnie") == ()
    assert len(letters(season, "wait_tonight", "Winnie")) == 2


def test_at_seven_on_the_day_it_is_said_again(season):
    pack_tonight(season.clock, morning(SUNDAY, 12))
    pack_tonight(season.clock, morning(MONDAY, 7))
    pack_tonight(season.clock, morning(MONDAY, 8))

    assert len(letters(season, "pack_tonight")) == 4


def test_at_seven_a_frost_told_overnight_still_stops_it(season):
    pack_tonight(season.clock, morning(SUNDAY, 12))
    tell_weather(season, morning(MONDAY, 6), frost=(MONDAY, TUESDAY, WEDNESDAY))

    told = pack_tonight(season.clock, morning(MONDAY, 7))

    assert len(told.to_wait) == 2
    assert len(letters(season, "wait_tonight")) == 2


def test_what_is_not_due_tomorrow_is_not_spoken_of(season):
    tell_weather(season, morning(SUNDAY, 10), frost=(MONDAY, TUESDAY, WEDNESDAY))
    season.plan(morning(SUNDAY, 10))
    before = len(letters(season, "wait_tonight"))

    pack_tonight(season.clock, morning(TUESDAY, 12))

    assert letters(season, "pack_tonight") == ()
    assert len(letters(season, "wait_tonight")) == before


def test_what_was_posted_early_is_not_spoken_of(season):
    early = season.parcel_to("Effie")
    say_posted(season.ring.actor("Winnie"), early.id, SUNDAY, morning(SUNDAY, 11))

    told = pack_tonight(season.clock, morning(SUNDAY, 12))

    assert early.code not in told.to_pack
    assert len(letters(season, "pack_tonight")) == 1


def test_silence_after_the_day_moves_nothing(season):
    """Whoever ticks nothing has probably posted: no plan takes the parcel back."""
    days = {one.code: one.announced_day for one in season.parcels()}
    tell_weather(season, morning(MONDAY, 17), frost=(TUESDAY, WEDNESDAY))

    for later in (morning(MONDAY, 18), morning(TUESDAY, 12), morning(date(2027, 4, 20), 12)):
        pack_tonight(season.clock, later)

    assert {one.code: one.announced_day for one in season.parcels()} == days
    assert letters(season, "moved", "Effie") == letters(season, "wait_tonight") == ()


def test_each_sender_is_told_by_their_own_clock(season):
    with season.house.books.writing() as tx:
        PLACES.change(tx, season.circle_id, season.ring.place("Winnie").id, zone="America/New_York")

    too_early = pack_tonight(season.clock, morning(SUNDAY, 16))
    season_noon = pack_tonight(season.clock, morning(SUNDAY, 17))

    assert too_early.to_pack == ()
    assert len(season_noon.to_pack) == 2, "noon in New York is five in the afternoon in Britain"


def test_the_job_has_work_only_when_an_hour_has_struck_somewhere(season):
    hours = [hour for hour in range(24) if is_pack_hour(season.clock, morning(SUNDAY, hour))]
    assert hours == [7, 8, 12, 13, 18, 19]

    with season.house.books.writing() as tx:
        PLACES.change(tx, season.circle_id, season.ring.place("Effie").id, zone="America/New_York")
    assert is_pack_hour(season.clock, morning(SUNDAY, 17))


def test_whom_no_mail_reaches_has_the_letter_to_copy(season):
    with_mail = replace(season.house, mail=MailServer("127.0.0.1", 25))
    clock = replace(season.clock, house=with_mail)
    with season.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, season.ring["Winnie"].id, email=None)

    pack_tonight(clock, morning(SUNDAY, 12))

    waiting = {letter.state for letter in letters(season, "pack_tonight")}
    copied = [one.text for one in letters_by_hand(replace(season.organiser, house=with_mail))]
    assert waiting == {LetterState.BY_HAND}
    assert sum("post on Mon\u00a05\u00a0April" in text for text in copied) == 2
