"""What members say of a parcel, and taking it back."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.came_alive import ListedSinceError
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.parcels import (
    AliveCountRefusedError,
    AlreadyOnItsWayError,
    Arrival,
    DayRefusedError,
    not_arrived,
    not_posted,
    say_arrived,
    say_posted,
)
from exchange.actions.sharing.spare_withdrawal import withdraw_spare
from exchange.actions.sharing.spares import list_spare
from exchange.domain.arriving.arrival import Condition
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.permissions import Permission, may
from exchange.domain.posting.parcel import ParcelState
from exchange.records import BATCHES, DIARY, PARCEL_LINES
from tests.app_fixtures import NOW
from tests.builders.offers import new_spare
from tests.builders.season import MONDAY, again, morning

TUESDAY, FRIDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=4)


def dates_of(season, parcel):
    with season.house.books.reading() as tx:
        rows = DIARY.all(tx, season.circle_id, parcel_id=parcel.id)
    return {(one.household_id, one.key): (one.first_day, one.last_day, one.title) for one in rows}


def batches_of(season, name):
    with season.house.books.reading() as tx:
        return BATCHES.all(tx, season.circle_id, household_id=season.ring[name].household_id)


def allocation_of(season, parcel):
    with season.house.books.reading() as tx:
        return PARCEL_LINES.all(tx, season.circle_id, parcel_id=parcel.id)[0].allocation_id


def test_posted_is_said_by_the_sender_or_the_organiser_only(season, parcel):
    for name in ("Effie", "Cuthbert"):
        with pytest.raises(NotAllowedError):
            say_posted(season.ring.actor(name), parcel.id, MONDAY, NOW)
    assert again(season, parcel).state is ParcelState.ANNOUNCED


def test_posted_on_another_day_moves_the_expected_days(season, parcel):
    now = morning(TUESDAY, 17)
    say_posted(season.organiser, parcel.id, TUESDAY, now)

    found = again(season, parcel)
    assert (found.state, found.posted_on) == (ParcelState.POSTED, TUESDAY)
    assert found.arrival_from > TUESDAY
    assert found.arrival_from > parcel.arrival_from


def test_a_posting_taken_back_leaves_the_parcel_as_it_was_announced(season, parcel):
    before = dates_of(season, parcel)
    say_posted(season.organiser, parcel.id, TUESDAY, morning(TUESDAY, 17))
    not_posted(season.organiser, parcel.id, morning(TUESDAY, 18))

    found = again(season, parcel)
    for name in ("state", "posting_day", "way_id", "arrival_from", "arrival_to", "posted_on"):
        assert getattr(found, name) == getattr(parcel, name), name
    assert dates_of(season, parcel) == before


@pytest.mark.parametrize("far", [1, 400, -400])
def test_a_day_to_come_or_long_past_is_refused(season, parcel, far):
    with pytest.raises(DayRefusedError) as refused:
        say_posted(season.organiser, parcel.id, MONDAY + timedelta(days=far), NOW)
    assert refused.value.field == "day"


def test_only_this_parcels_dates_are_written_anew(season, parcel):
    other = season.parcel_to("Cuthbert")
    with season.house.books.reading() as tx:
        before = DIARY.all(tx, season.circle_id, parcel_id=other.id)
    say_posted(season.organiser, parcel.id, MONDAY, NOW + timedelta(hours=2))
    with season.house.books.reading() as tx:
        assert DIARY.all(tx, season.circle_id, parcel_id=other.id) == before
    titles = {title for _first, _last, title in dates_of(season, parcel).values()}
    assert f"{parcel.code} went to Effie" in titles


def test_arrival_makes_plants_that_take_room_where_care_says(season, parcel):
    from exchange.actions.growing.shelters import NewShelter, set_shelter

    effie = season.ring.actor("Effie")
    place = season.ring.place("Effie")
    set_shelter(effie, NewShelter(place.id, ShelterKind.FROST_FREE, 20), NOW)
    say_arrived(effie, parcel.id, Arrival(TUESDAY), morning(TUESDAY, 12))

    (batch,) = batches_of(season, "Effie")
    assert (batch.plants, batch.since) == (1, TUESDAY)
    assert batch.shelter is ShelterKind.FROST_FREE
    assert parcel.code in batch.origin


def test_what_came_and_is_taken_back_stands_nowhere(season, parcel):
    effie = season.ring.actor("Effie")
    before = dates_of(season, parcel)
    say_arrived(effie, parcel.id, Arrival(TUESDAY), morning(TUESDAY, 12))
    not_arrived(effie, parcel.id, morning(TUESDAY, 13))

    found = again(season, parcel)
    assert batches_of(season, "Effie") == ()
    assert (found.state, found.arrived_on, found.closed_at) == (ParcelState.ANNOUNCED, None, None)
    assert dates_of(season, parcel) == before


@pytest.mark.parametrize(("alive", "plants"), [({}, 0), ({"all": 1}, 1)])
def test_dead_plants_hold_nothing_unless_some_are_said_to_live(season, parcel, alive, plants):
    living = dict.fromkeys((allocation_of(season, parcel),) if alive else (), 1)
    arrival = Arrival(TUESDAY, Condition.DEAD, alive=living)
    say_arrived(season.ring.actor("Effie"), parcel.id, arrival, morning(TUESDAY, 12))
    assert sum(one.plants for one in batches_of(season, "Effie")) == plants


@pytest.mark.parametrize("count", [-1, 2])
def test_no_more_can_live_than_were_sent(season, parcel, count):
    arrival = Arrival(TUESDAY, alive={allocation_of(season, parcel): count})
    with pytest.raises(AliveCountRefusedError) as refused:
        say_arrived(season.ring.actor("Effie"), parcel.id, arrival, morning(TUESDAY, 12))
    assert refused.value.field.startswith("alive-")
    assert again(season, parcel).state is ParcelState.ANNOUNCED


def test_it_cannot_come_before_it_went(season, parcel):
    say_posted(season.organiser, parcel.id, TUESDAY, morning(TUESDAY, 9))
    with pytest.raises(DayRefusedError):
        say_arrived(season.ring.actor("Effie"), parcel.id, Arrival(MONDAY), morning(TUESDAY, 12))


def test_a_lost_parcel_can_still_come(season, parcel):
    effie = season.ring.actor("Effie")
    say_arrived(effie, parcel.id, Arrival(FRIDAY, lost=True), morning(FRIDAY))
    assert again(season, parcel).state is ParcelState.LOST
    assert batches_of(season, "Effie") == ()
    with pytest.raises(AlreadyOnItsWayError):
        say_posted(season.organiser, parcel.id, FRIDAY, morning(FRIDAY))

    say_arrived(effie, parcel.id, Arrival(FRIDAY), morning(FRIDAY, 12))
    assert again(season, parcel).state is ParcelState.ARRIVED
    assert sum(one.plants for one in batches_of(season, "Effie")) == 1


@pytest.mark.parametrize("lost", [True, False])
def test_the_sender_sees_the_address_until_fourteen_days_after_the_end(season, parcel, lost):
    arrival = Arrival(FRIDAY, lost=lost)
    say_arrived(season.ring.actor("Effie"), parcel.id, arrival, morning(FRIDAY))
    sender = replace(season.ring.actor("Winnie"), organiser=False)
    for days, seen in ((14, True), (15, False)):
        now = morning(FRIDAY + timedelta(days=days))
        with season.house.books.reading() as tx:
            subject = subject_of(tx, sender, again(season, parcel), now)
        assert may(sender.person, Permission.SEE_RECEIVER_ADDRESS, subject) is seen


def test_what_came_and_is_offered_since_is_taken_off_the_list_first(season, parcel):
    effie = season.ring.actor("Effie")
    say_arrived(effie, parcel.id, Arrival(TUESDAY), morning(TUESDAY, 12))
    (batch,) = batches_of(season, "Effie")
    now = morning(TUESDAY, 13)
    spare_id = list_spare(effie, new_spare(batch.variety_id, count=1), now)

    with pytest.raises(ListedSinceError):
        not_arrived(effie, parcel.id, now)
    assert again(season, parcel).state is ParcelState.ARRIVED
    withdraw_spare(effie, spare_id, now)
    not_arrived(effie, parcel.id, now)

    assert batches_of(season, "Effie") == ()
