from dataclasses import replace
from datetime import date, timedelta

from exchange.domain.arriving.step import StepKind
from exchange.domain.diary import (
    LONGEST_BANNER_DAYS,
    EntryKind,
    ParcelDates,
    dispatch_diary,
    household_diary,
)
from tests.builders.arrivals import WEDNESDAY, a_line, a_receiver, a_window, steps_of

MAUD, COLIN, ELSE = 1, 2, 3


def a_parcel(parcel_id=27, posting_day=date(2027, 4, 27), at=None, **more):
    values = {
        "parcel_id": parcel_id,
        "code": f"Bramble {parcel_id}",
        "sender_household_id": MAUD,
        "receiver_household_id": COLIN,
        "sender_first_name": "Maud",
        "receiver_first_name": "Colin",
        "posting_day": posting_day,
        "expected": a_window(),
        "plants": 3,
        "care": steps_of([a_line()], at),
    }
    return ParcelDates(**(values | more))


def test_the_sender_sees_the_posting_and_the_receiver_the_rest():
    kinds = {
        who: [entry.kind for entry in household_diary(who, [a_parcel()])]
        for who in (MAUD, COLIN, ELSE)
    }

    assert kinds[MAUD] == [EntryKind.POSTING]
    assert kinds[COLIN].count(EntryKind.ARRIVAL) == 1
    assert set(kinds[COLIN]) == {EntryKind.ARRIVAL, EntryKind.CARE}
    assert kinds[ELSE] == []


def test_keys_stay_when_days_move():
    before = household_diary(COLIN, [a_parcel()])
    later = a_window(WEDNESDAY + timedelta(days=7))
    after = household_diary(
        COLIN, [a_parcel(expected=later, care=steps_of([a_line()], None, later))]
    )

    assert {entry.key for entry in before} == {entry.key for entry in after}
    assert [entry.first for entry in before] != [entry.first for entry in after]


def test_every_key_stands_once_over_parcels_and_diaries():
    parcels = [a_parcel(27), a_parcel(28)]

    keys = [
        entry.key
        for entries in (
            household_diary(MAUD, parcels),
            household_diary(COLIN, parcels),
            dispatch_diary(parcels),
        )
        for entry in entries
    ]

    assert len(keys) == len(set(keys))


def test_a_parcel_without_a_day_is_in_no_diary():
    parcel = a_parcel(posting_day=None, expected=None, care=())

    assert household_diary(MAUD, [parcel]) == household_diary(COLIN, [parcel]) == ()
    assert dispatch_diary([parcel]) == ()


def test_long_care_stands_on_its_first_day_only():
    entries = household_diary(COLIN, [a_parcel()])

    assert all((entry.last - entry.first).days < LONGEST_BANNER_DAYS for entry in entries)
    harden = next(e for e in entries if e.step and e.step.kind is StepKind.HARDEN)
    assert harden.last == harden.first < harden.step.last


def test_what_has_no_day_of_its_own_is_left_out():
    entries = household_diary(COLIN, [a_parcel(at=a_receiver(safe_date=None))])

    assert not [e for e in entries if e.step and e.step.kind is StepKind.PLANT_OUT]


def test_dispatch_is_in_order_and_names_first_names():
    parcels = [a_parcel(2, date(2027, 5, 3)), a_parcel(1, date(2027, 4, 26), posted=True)]

    entries = dispatch_diary(parcels)

    assert [entry.key for entry in entries] == ["parcel-1-dispatch", "parcel-2-dispatch"]
    assert [entry.done for entry in entries] == [True, False]
    assert (entries[0].from_first_name, entries[0].with_first_name) == ("Maud", "Colin")


def test_care_of_three_days_stands_on_each_of_them_and_care_of_four_on_its_first_only():
    step = steps_of([a_line()], None)[0]
    first = date(2027, 5, 1)
    care = tuple(
        replace(step, key=f"of-{days}", first=first, last=first + timedelta(days=days - 1))
        for days in (3, 4)
    )

    entries = household_diary(COLIN, [a_parcel(expected=None, care=care)])

    assert {entry.key[-1]: entry.last.day for entry in entries} == {"3": 3, "4": 1}
