"""Addresses of calendars: made, rotated, stopped; who may have which."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from icalendar import Calendar

from exchange.actions.circle.leaving import leave
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.calendars import (
    CalendarKind,
    calendar_at,
    calendars_page,
    new_address,
    revoke_address,
    set_reminders,
)
from exchange.actions.posting.replan import gather
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, CALENDARS, DIARY, MEMBERS, NotHereError
from tests.app_fixtures import NOW, a_house, token_of
from tests.builders.season import a_season

MEMBER, DISPATCH = CalendarKind.MEMBER, CalendarKind.DISPATCH


def token(season, name, kind=MEMBER):
    address = new_address(season.ring.actor(name), kind, NOW).address
    assert address.endswith(f"/{kind.value}.ics")
    return token_of(address.removesuffix(f"/{kind.value}.ics"))


def at(season, secret, now=NOW, by="Thunderbird"):
    return calendar_at(season.house, secret, by, now)


def lines_of(found):
    return {str(one["SUMMARY"]): one for one in Calendar.from_ical(found.body).walk("VEVENT")}


def test_a_member_reads_what_comes_and_the_care_of_it(season):
    parcel = season.parcel_to("Effie")
    found = lines_of(at(season, token(season, "Effie")))
    assert f"{parcel.code} should come from Winnie" in found
    assert not any("Cuthbert" in line for line in found)


def test_no_surname_and_no_place_stands_in_any_calendar(season):
    for name, kind in (("Effie", MEMBER), ("Winnie", MEMBER), ("Winnie", DISPATCH)):
        body = at(season, token(season, name, kind)).body.decode()
        assert not any(word in body for word in ("Pellow", "Ludlow", "Inverness", "Penzance"))


def test_the_dispatch_calendar_is_for_organisers_and_helpers(season):
    with pytest.raises(NotAllowedError):
        new_address(season.ring.actor("Effie"), DISPATCH, NOW)
    assert [one.kind for one in calendars_page(season.ring.actor("Effie"), NOW).lines] == [MEMBER]

    with season.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, season.ring["Effie"].id, helper="postage")
    assert len(lines_of(at(season, token(season, "Effie", DISPATCH)))) == 2


def test_it_stops_for_who_is_no_longer_organiser(season):
    secret = token(season, "Winnie", DISPATCH)
    assert at(season, secret) is not None
    with season.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, season.ring["Winnie"].id, organiser=False)
    assert at(season, secret) is None


def test_a_new_address_stops_the_old_one_and_keeps_the_choice_of_reminders(season):
    effie = season.ring.actor("Effie")
    old = token(season, "Effie")
    set_reminders(effie, MEMBER, NOW, on=False)
    new = token(season, "Effie")
    assert at(season, old) is None
    assert b"VALARM" not in at(season, new).body
    set_reminders(effie, MEMBER, NOW, on=True)
    assert b"VALARM" in at(season, new).body


def test_a_stopped_address_and_one_that_never_was_look_alike(season):
    secret = token(season, "Effie")
    revoke_address(season.ring.actor("Effie"), MEMBER, NOW)
    assert at(season, secret) is None
    assert at(season, "never-was") is None
    with pytest.raises(NotHereError):
        revoke_address(season.ring.actor("Effie"), MEMBER, NOW)


def test_it_stops_for_who_has_left(season):
    secret = token(season, "Cuthbert")
    cuthbert = season.ring["Cuthbert"]
    leave(season.ring.actor("Cuthbert"), cuthbert.id, NOW)
    assert at(season, secret) is None


def test_only_the_hash_of_an_address_is_kept(season):
    secret = token(season, "Effie")
    with season.house.books.reading() as tx:
        (kept,) = CALENDARS.all(tx, season.circle_id)
    assert secret not in repr(kept)


def test_the_same_facts_give_the_same_bytes_on_the_next_day_too(season):
    secret = token(season, "Effie")
    first, next_day = at(season, secret), at(season, secret, NOW + timedelta(days=1))
    assert first.body == next_day.body
    assert first.etag == next_day.etag


def test_a_reader_that_asks_by_date_alone_asks_again_after_midnight(season):
    """No row records what drops out of the window at midnight."""
    secret = token(season, "Effie")
    later = at(season, secret, NOW + timedelta(days=3))
    assert later.last_modified == datetime(2027, 4, 7, 23, 0, tzinfo=UTC)  # midnight in London


def test_nothing_is_said_to_have_changed_in_the_future(tmp_path):
    """RFC 9110, 8.8.2.1: Last-Modified is never later than the answer itself."""
    with a_house(tmp_path, today=date(2027, 4, 5)) as house:
        made = a_season(house)
        secret = token(made, "Effie")
        machine = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
        assert at(made, secret, machine).last_modified <= machine


def test_fetches_are_noted_but_not_each_of_them(season):
    secret = token(season, "Effie")

    def fetched():
        with season.house.books.reading() as tx:
            (one,) = CALENDARS.all(tx, season.circle_id)
        return one.last_fetched_at, one.last_fetched_by

    at(season, secret, NOW, "Thunderbird")
    at(season, secret, NOW + timedelta(minutes=9), "Thunderbird")
    assert fetched() == (NOW, "Thunderbird")
    at(season, secret, NOW + timedelta(minutes=11), "Thunderbird")
    assert fetched()[0] == NOW + timedelta(minutes=11)
    at(season, secret, NOW + timedelta(minutes=12), "Evolution")
    assert fetched()[1] == "Evolution"
    assert at(season, "never-was") is None


def test_the_dates_of_a_parcel_that_is_gone_are_cancelled_not_dropped(season):
    parcel = season.parcel_to("Effie")
    secret = token(season, "Effie")
    with season.house.books.writing() as tx:
        for one in ALLOCATIONS.all(tx, season.circle_id):
            ALLOCATIONS.change(tx, season.circle_id, one.id, state=AllocationState.DECLINED)
    later = NOW + timedelta(hours=1)
    with season.house.books.writing() as tx:
        gather(tx, season.circle_id, later)
    season.plan(later)

    assert season.parcels() == ()
    with season.house.books.reading() as tx:
        assert all(one.cancelled_on for one in DIARY.all(tx, season.circle_id))
    line = f"Cancelled: {parcel.code} should come from Winnie"
    found = lines_of(at(season, secret, later))
    assert str(found[line]["STATUS"]) == "CANCELLED"
    assert found[line]["SEQUENCE"] == 1


def test_the_same_entries_keep_their_names_when_the_address_of_the_house_changes(season):
    secret = token(season, "Effie")
    moved = replace(season.house, public_url="https://moved.example")

    before, after = (
        {str(one["UID"]) for one in Calendar.from_ical(found.body).walk("VEVENT")}
        for found in (at(season, secret), calendar_at(moved, secret, "Thunderbird", NOW))
    )

    assert before
    assert before == after
