"""The pages of parcels that are late or come back."""

import re
from datetime import timedelta

import pytest

from exchange.actions.posting.parcels import say_posted
from exchange.domain.posting.parcel import ParcelState
from tests.app_fixtures import Visitor
from tests.builders.season import MONDAY, again, morning
from tests.web.posting.test_parcels import words

FRIDAY = MONDAY + timedelta(days=4)


@pytest.fixture
def sender(both):
    here, season = both
    return Visitor(here, season.ring["Winnie"])


@pytest.fixture
def receiver(both):
    here, season = both
    return Visitor(here, season.ring["Effie"])


@pytest.fixture
def sent(both):
    _here, season = both
    found = season.parcel_to("Effie")
    say_posted(season.organiser, found.id, MONDAY, morning(MONDAY, 17))
    return found


@pytest.fixture
def season(both):
    return both[1]


def good_field(sender, parcel):
    page = sender.get(f"/parcels/{parcel.id}/returned").text
    return re.search(r'name="(good-\d+)"', page).group(1)


def test_the_sender_says_that_it_came_back_and_sees_the_new_parcel(season, sender, sent):
    assert "It came back to you" in words(sender.get(f"/parcels/{sent.id}"))
    sender.post(f"/parcels/{sent.id}/returned", {"day": MONDAY.isoformat()})

    assert again(season, sent).state is ParcelState.RETURNED
    page = words(sender.get(f"/parcels/{sent.id}"))
    assert "It came back to its sender." in page
    assert "What is still good goes again as" in page
    sender.post(f"/parcels/{sent.id}/not-returned")
    assert again(season, sent).state is ParcelState.POSTED


def test_what_is_no_longer_good_is_said_to_be_lacking(season, sender, receiver, sent):
    name = good_field(sender, sent)
    sender.post(f"/parcels/{sent.id}/returned", {"day": MONDAY.isoformat(), name: "0"})

    page = words(receiver.get(f"/parcels/{sent.id}"))
    assert "1 plant in it did not live. Your claim lacks as many again" in page
    assert "It came, all well" not in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"day": ""}, "Write the day"),
        ({"day": (MONDAY + timedelta(days=30)).isoformat()}, "That day is still to come."),
        ({"day": (MONDAY - timedelta(days=3)).isoformat()}, "give the day it came back"),
    ],
)
def test_a_wrong_day_comes_back_with_what_to_write(season, sender, sent, typed, said):
    answer = sender.post(f"/parcels/{sent.id}/returned", typed)

    assert answer.status_code == 422
    assert said in words(answer)
    assert again(season, sent).state is ParcelState.POSTED


def test_more_good_than_sent_is_put_right_beside_its_field(season, sender, sent):
    name = good_field(sender, sent)
    answer = sender.post(f"/parcels/{sent.id}/returned", {"day": MONDAY.isoformat(), name: "7"})

    assert answer.status_code == 422
    assert "from 0 to 1" in words(answer)
    assert again(season, sent).state is ParcelState.POSTED


def test_pressed_too_early_late_is_refused_with_the_reason(season, receiver, sent):
    receiver.post(f"/parcels/{sent.id}/late")

    assert "It may still come on the days expected" in words(receiver.get(f"/parcels/{sent.id}"))
    assert again(season, sent).missed_on is None
