"""One-button answers: looked at as often as one likes, pressed once, without signing in."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest

from exchange.actions.circle.leaving import leave
from exchange.actions.kernel.links import Purpose
from exchange.domain.posting.parcel import ParcelState
from exchange.records import DEEDS
from tests.app_fixtures import Visitor, link_for
from tests.builders.season import MONDAY, again, morning

TUESDAY = MONDAY + timedelta(days=1)
CAME = {"condition": "well", "on": TUESDAY.isoformat()}


@pytest.fixture
def here(both):
    both[0].clock.at = morning(MONDAY + timedelta(days=3), 9)
    return both[0]


@pytest.fixture
def parcel(season):
    return season.parcel_to("Effie")


@pytest.fixture
def path(here, season, parcel):
    return link_for(here, season.ring["Effie"], Purpose.DID_IT_COME, parcel.id)


def told(season):
    """Give how often it was said how a parcel came."""
    with season.house.books.reading() as tx:
        deeds = DEEDS.all(tx, season.circle_id)
    return sum(one.act == "said how a parcel came" for one in deeds)


def test_looking_answers_nothing_and_pressing_answers_once(here, season, parcel, path):
    visitor = Visitor(here)

    looked = [visitor.get(path).status_code for _look in range(3)]
    nothing_yet = told(season)
    pressed = visitor.post(path, CAME)
    afresh = Visitor(here).post(path, CAME)

    assert looked == [200, 200, 200]
    assert nothing_yet == 0
    assert pressed.status_code == 200
    assert f"{parcel.code} came on Tue" in pressed.text
    assert afresh.status_code == 410
    assert told(season) == 1
    assert again(season, parcel).arrived_on == TUESDAY


def test_of_six_presses_at_once_one_counts(here, season, path):
    visitors = [Visitor(here) for _each in range(6)]
    for visitor in visitors:
        visitor.token()

    with ThreadPoolExecutor(6) as many:
        codes = list(many.map(lambda one: one.post(path, CAME).status_code, visitors))

    assert sorted(codes) == [200, *[410] * 5]
    assert told(season) == 1


def test_an_answer_that_is_not_taken_leaves_the_link_as_it_was(here, season, path):
    visitor = Visitor(here)

    refused = visitor.post(path, {"condition": "well", "on": "2027-04-30"})
    taken = visitor.post(path, CAME)

    assert refused.status_code == 422
    assert "That day is still to come." in refused.text
    assert taken.status_code == 200
    assert told(season) == 1


def test_the_thanks_say_what_stands(here, season, parcel, path):
    second = link_for(here, season.ring["Effie"], Purpose.DID_IT_COME, parcel.id)
    Visitor(here).post(path, CAME)

    thanks = Visitor(here).post(second, {"condition": "well", "answer": "never"})

    assert f"{parcel.code} came on Tue" in thanks.text
    assert again(season, parcel).state is ParcelState.ARRIVED


def test_an_answer_signs_nobody_in(here, path):
    visitor = Visitor(here)

    visitor.post(path, CAME)

    assert visitor.get("/todo").headers["Location"].startswith("/sign-in")


def test_an_answer_without_the_token_against_forgery_is_refused(here, season, path):
    assert Visitor(here).client.post(path, data=CAME).status_code == 400
    assert told(season) == 0


def test_a_link_asks_only_what_it_was_made_for(here, path):
    token = path.rpartition("/")[2]

    assert Visitor(here).get(f"/answer/did-it-go/{token}").status_code == 410
    assert Visitor(here).post(f"/answer/did-it-go/{token}", {"answer": "went"}).status_code == 410
    assert Visitor(here).get(f"/answer/anything/{token}").status_code == 404
    assert Visitor(here).post(f"/answer/anything/{token}").status_code == 404


def test_an_answer_that_says_nothing_is_asked_for_again(here, season, parcel):
    path = link_for(here, season.ring["Winnie"], Purpose.SENDER_ANSWER, parcel.id)

    nothing = Visitor(here).post(path, {"answer": "each"})

    assert nothing.status_code == 422
    assert "Say how many can go." in nothing.text


def test_the_link_of_who_has_left_no_longer_works(here, season, path):
    leave(season.ring.actor("Effie"), season.ring["Effie"].id, here.now())

    assert Visitor(here).get(path).status_code == 410
    assert Visitor(here).post(path, CAME).status_code == 410
