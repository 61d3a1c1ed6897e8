"""Days that would do but for other parcels: full, taken by one of its kind, or without room."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.posting.options import Option, cases
from exchange.domain.posting.packing import packing
from exchange.domain.posting.reasons import DayWord, Stop
from exchange.domain.posting.stops import crowded, taken_days
from exchange.domain.posting.transit import ArrivalChance
from tests.builders.posting import MONDAY, NOW, a_household, a_line, a_parcel, facts, first_class

TUESDAY, WEDNESDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=2)


def option(number, offset):
    """Give a day that would do, with arrival surely on the next."""
    day = MONDAY + timedelta(days=offset)
    coming = (ArrivalChance(day + timedelta(days=1), 1.0),)
    return Option(number, day, offset, first_class(), coming, packing("shoe_box"), 0.01, 0.01, 5, 4)


def marked(parcels, chosen, gone=(), asked=2, **more):
    """Give the stops of parcel 2, by default, on Monday to Wednesday, and their numbers."""
    around = facts(parcels, **more)
    laid = cases(parcels, around, NOW)
    full = taken_days(laid, chosen, gone)
    (case,) = (one for one in laid if one.parcel.id == asked)
    days = [option(asked, offset) for offset in range(3)]
    found = crowded(case, days, chosen[asked], full, around)
    return [one.stop and (one.stop.word, one.stop.number) for one in found]


def of_household(parcels_a_day):
    return {n: a_household(n, parcels_a_day=parcels_a_day) for n in (1, 2)}


@pytest.mark.parametrize(("parcels_a_day", "stop"), [(1, (DayWord.DAY_FULL, None)), (2, None)])
def test_a_day_is_full_when_the_household_packs_no_more(parcels_a_day, stop):
    parcels = [a_parcel(1), a_parcel(2)]
    chosen = {1: option(1, 0), 2: option(2, 1)}

    assert marked(parcels, chosen, households=of_household(parcels_a_day)) == [stop, None, None]


def test_a_parcel_posted_already_takes_its_day_too():
    gone = [a_parcel(3, posted_on=WEDNESDAY)]

    stops = marked([a_parcel(2)], {2: option(2, 1)}, gone, households=of_household(1))

    assert stops == [None, None, (DayWord.DAY_FULL, None)]


def test_another_households_parcels_take_no_day():
    parcels = [a_parcel(1, sender_household_id=2), a_parcel(2)]

    stops = marked(parcels, {1: option(1, 0), 2: option(2, 1)}, households=of_household(1))

    assert stops == [None, None, None]


@pytest.mark.parametrize(
    ("variety", "kept", "stop"),
    [(1, True, (DayWord.ONE_A_DAY, None)), (2, True, None), (1, False, None)],
)
def test_what_must_not_be_lost_goes_with_no_other_of_its_variety(variety, kept, stop):
    line = a_line(1, variety_id=variety, must_not_be_lost=kept)
    parcels = [a_parcel(1, (line,)), a_parcel(2, (a_line(2, must_not_be_lost=True),))]

    assert marked(parcels, {1: option(1, 0), 2: option(2, 1)})[0] == stop


@pytest.mark.parametrize(
    ("room", "stops"),
    [
        (5, [None, None, None]),
        (4, [(DayWord.ROOM_FULL, 1), None, (DayWord.ROOM_FULL, 1)]),
        (1, [(DayWord.ROOM_FULL, 1), None, (DayWord.ROOM_FULL, 0)]),
    ],
)
def test_the_receivers_room_is_counted_on_every_day_from_its_coming(room, stops):
    # Three plants come on Wednesday; ours, of two, have to find room beside them then.
    parcels = [a_parcel(1, (a_line(1, count=3),)), a_parcel(2, (a_line(2, count=2),))]
    shelters = (Shelter(2, ShelterKind.HEATED, room_pots=room),)

    assert marked(parcels, {1: option(1, 1), 2: option(2, 1)}, shelters=shelters) == stops


def test_the_parcel_itself_takes_no_room_from_its_other_days():
    shelters = (Shelter(2, ShelterKind.HEATED, room_pots=1),)

    assert marked([a_parcel(2)], {2: option(2, 1)}, shelters=shelters) == [None, None, None]


def test_pots_that_stand_there_already_are_counted():
    shelters = (Shelter(2, ShelterKind.HEATED, room_pots=3),)
    taken = {2: {WEDNESDAY: 3}}

    stops = marked([a_parcel(2)], {2: None}, shelters=shelters, room_taken=taken)

    assert stops == [None, (DayWord.ROOM_FULL, 0), (DayWord.ROOM_FULL, 0)]


def test_a_day_that_is_stopped_already_keeps_its_reason():
    around = facts([a_parcel(2)], households=of_household(0))
    (case,) = cases([a_parcel(2)], around, NOW)
    stopped = replace(option(2, 0), stop=Stop(DayWord.FROST_HERE))

    (found,) = crowded(case, [stopped], None, taken_days([case], {2: None}, ()), around)

    assert found.stop == Stop(DayWord.FROST_HERE)


def test_the_first_day_without_room_is_the_one_that_is_counted():
    """Five others come, one a day: two are left of four places when ours, of three, is short."""
    others = [a_parcel(n) for n in (1, 3, 4, 5, 6)]
    parcels = [*others, a_parcel(2, (a_line(2, count=3),))]
    chosen = {n: option(n, n + 1) for n in (1, 3, 4, 5, 6)} | {2: None}
    shelters = (Shelter(2, ShelterKind.HEATED, room_pots=4),)

    assert marked(parcels, chosen, shelters=shelters)[0] == (DayWord.ROOM_FULL, 2)


def test_a_household_that_packs_none_has_no_other_day():
    full = (DayWord.DAY_FULL, None)

    assert marked([a_parcel(2)], {2: option(2, 1)}, households=of_household(0)) == [
        full,
        None,
        full,
    ]


@pytest.mark.parametrize("posted_on", [MONDAY, None])
def test_a_parcel_posted_already_takes_its_room_until_it_comes(posted_on):
    gone = [a_parcel(3, (a_line(3, count=3),), posted_on=posted_on)]
    around = {
        "shelters": (Shelter(2, ShelterKind.HEATED, room_pots=5),),
        "room_taken": {2: {TUESDAY: 1, MONDAY + timedelta(days=9): 0}},
    }

    stops = marked([a_parcel(2, (a_line(2, count=2),))], {2: None}, gone, **around)

    assert stops == [(DayWord.ROOM_FULL, 1)] * 3


def test_what_stood_there_before_the_coming_takes_no_room():
    parcels = [a_parcel(1, (a_line(1, count=1),)), a_parcel(2, (a_line(2, count=2),))]
    around = {
        "shelters": (Shelter(2, ShelterKind.HEATED, room_pots=3),),
        "room_taken": {2: {TUESDAY: 2, WEDNESDAY + timedelta(days=1): 0}},
    }

    stops = marked(parcels, {1: option(1, 0), 2: None}, **around)

    assert stops == [(DayWord.ROOM_FULL, 0), (DayWord.ROOM_FULL, 0), None]


def test_room_is_asked_for_from_the_first_day_it_may_come():
    parcel = a_parcel(2, (a_line(2, count=2),))
    shelters = (Shelter(2, ShelterKind.HEATED, room_pots=2),)
    around = facts([parcel], shelters=shelters, room_taken={2: {TUESDAY: 1, WEDNESDAY: 0}})
    (case,) = cases([parcel], around, NOW)
    slow = replace(
        option(2, 0), coming=(ArrivalChance(TUESDAY, 0.5), ArrivalChance(WEDNESDAY, 0.5))
    )

    (found,) = crowded(case, [slow], None, taken_days([case], {2: None}, ()), around)

    assert found.stop == Stop(DayWord.ROOM_FULL, number=1)
