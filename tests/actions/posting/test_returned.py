"""Parcels that come back: what is good goes again under a new code, the rest is lacking."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.missing import gone_again
from exchange.actions.posting.parcels import (
    AliveCountRefusedError,
    AlreadyOnItsWayError,
    Arrival,
    DayRefusedError,
    not_arrived,
    say_arrived,
    say_posted,
)
from exchange.actions.posting.returned import CameBack, not_returned, say_returned
from exchange.actions.sharing.allocation_answers import refuse
from exchange.actions.sharing.sender_answer import to_answer
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, LETTERS, PARCEL_LINES
from tests.builders.season import MONDAY, again, morning
from tests.builders.tasks import waiting

FRIDAY = MONDAY + timedelta(days=4)
LATER = morning(FRIDAY, 17)


@pytest.fixture
def sent(season, parcel):
    say_posted(season.organiser, parcel.id, MONDAY, morning(MONDAY, 17))
    return again(season, parcel)


def come_back(season, parcel, good=None):
    say_returned(season.organiser, parcel.id, CameBack(FRIDAY, good or {}), LATER)


def allocation_of(season, parcel):
    with season.house.books.reading() as tx:
        return PARCEL_LINES.all(tx, season.circle_id, parcel_id=parcel.id)[0].allocation_id


def later_parcels(season, parcel):
    with season.house.books.reading() as tx:
        return gone_again(tx, season.circle_id, again(season, parcel))


def letters(season, name, kind):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, member_id=season.ring[name].id, kind=kind)


def test_what_is_still_good_goes_again_in_a_new_parcel_and_the_receiver_is_told(season, sent):
    come_back(season, sent)

    (other,) = later_parcels(season, sent)
    assert again(season, sent).state is ParcelState.RETURNED
    assert other.state is ParcelState.PLANNED
    assert other.code != sent.code
    assert other.receiver_household_id == sent.receiver_household_id
    (letter,) = letters(season, "Effie", "came_back")
    assert "still good" in letter.body
    assert "no longer good" not in letter.body


def test_what_is_no_longer_good_the_claim_lacks_again(season, sent):
    come_back(season, sent, {allocation_of(season, sent): 0})

    assert later_parcels(season, sent) == ()
    assert waiting(season.organiser, "reserve") == [season.variety_id]
    (letter,) = letters(season, "Effie", "came_back")
    assert "no longer good" in letter.body


def test_a_parcel_given_up_for_lost_can_come_back(season, sent):
    say_arrived(season.ring.actor("Effie"), sent.id, Arrival(FRIDAY, lost=True), LATER)
    come_back(season, sent)

    (other,) = later_parcels(season, sent)
    with season.house.books.reading() as tx:
        inside = ALLOCATIONS.get(tx, season.circle_id, allocation_of(season, other))
    assert inside.state is AllocationState.AGREED


def test_taken_back_it_is_on_its_way_and_the_new_parcel_is_gone(season, sent):
    come_back(season, sent)
    not_returned(season.organiser, sent.id, LATER)

    assert again(season, sent).state is ParcelState.POSTED
    assert again(season, sent).condition == ""
    assert later_parcels(season, sent) == ()
    codes = [one.code for one in season.parcels()]
    assert codes.count(sent.code) == 1
    assert len(codes) == 2


def test_once_posted_again_it_cannot_be_taken_back(season, sent):
    come_back(season, sent)
    (other,) = later_parcels(season, sent)
    say_posted(season.organiser, other.id, FRIDAY, LATER)

    with pytest.raises(AlreadyOnItsWayError):
        not_returned(season.organiser, sent.id, LATER)


def test_the_sender_may_still_say_no_to_sending_again(season, sent):
    come_back(season, sent)
    refuse(season.organiser, allocation_of(season, sent), LATER)

    assert later_parcels(season, sent) == ()
    assert again(season, sent).state is ParcelState.RETURNED
    assert allocation_of(season, sent), "what was in it stays known"


def test_the_sender_is_asked_about_the_new_day_not_the_one_it_went_on(season, sent):
    come_back(season, sent)

    (asked,) = (
        one
        for one in to_answer(season.ring.actor("Winnie"))
        if one.allocation_id == allocation_of(season, sent)
    )

    assert again(season, sent).posting_day == MONDAY
    assert (asked.posting_day, asked.announced) == (None, False)


def test_the_receivers_word_cannot_undo_a_return(season, sent):
    come_back(season, sent)
    effie = season.ring.actor("Effie")

    assert not say_arrived(effie, sent.id, Arrival(FRIDAY), LATER)
    with pytest.raises(AlreadyOnItsWayError):
        not_arrived(effie, sent.id, LATER)
    assert again(season, sent).state is ParcelState.RETURNED


def test_what_has_not_gone_or_has_come_cannot_come_back(season, parcel):
    with pytest.raises(DayRefusedError):
        say_returned(
            season.organiser, parcel.id, CameBack(MONDAY - timedelta(days=1)), morning(MONDAY)
        )
    say_arrived(season.ring.actor("Effie"), parcel.id, Arrival(FRIDAY), LATER)
    with pytest.raises(AlreadyOnItsWayError):
        come_back(season, parcel)


def test_bad_numbers_and_strangers_are_refused(season, sent):
    with pytest.raises(AliveCountRefusedError) as refused:
        come_back(season, sent, {allocation_of(season, sent): 7})
    assert refused.value.field == f"good-{allocation_of(season, sent)}"
    with pytest.raises(NotAllowedError):
        say_returned(season.ring.actor("Cuthbert"), sent.id, CameBack(FRIDAY), LATER)
    with pytest.raises(DayRefusedError):
        say_returned(season.organiser, sent.id, CameBack(FRIDAY + timedelta(days=9)), LATER)
    assert again(season, sent).state is ParcelState.POSTED
