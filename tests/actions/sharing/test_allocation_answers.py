"""After a share-out: the receiver may decline, the sender quietly refuse, and the reserve moves up."""

import pytest

from exchange.actions.circle.season_file import season_file
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.parcels import say_posted
from exchange.actions.sharing.allocation_answers import (
    NoLongerOpenError,
    agree,
    decline,
    refuse,
)
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, PARCEL_LINES, SPARES
from tests.app_fixtures import NOW, a_house
from tests.builders.season import a_season, tell_weather
from tests.builders.tasks import offer_to_reserve


@pytest.fixture
def season(tmp_path):
    """One plant, two claims: one was given it, the other is the reserve."""
    with a_house(tmp_path) as house:
        made = a_season(house, count=1)
        tell_weather(made, NOW)
        made.plan()
        yield made


def given(season):
    with season.house.books.reading() as tx:
        return ALLOCATIONS.all(tx, season.circle_id, state=STANDING)


def who(season, allocation):
    """Give the first names of the one an allocation is for and of the one who waits."""
    name = next(key for key, claim_id in season.claims.items() if claim_id == allocation.claim_id)
    return name, next(key for key in season.claims if key != name)


def test_the_sender_says_yes(season):
    (one,) = given(season)
    agree(season.ring.actor("Winnie"), one.id, NOW)

    assert [row.state for row in given(season)] == [AllocationState.AGREED]


def test_only_the_sender_answers_for_the_sender(season):
    (one,) = given(season)
    for act in (agree, refuse):
        with pytest.raises(NotAllowedError):
            act(season.ring.actor(who(season, one)[0]), one.id, NOW)


def test_the_organiser_may_answer_for_a_member(season):
    (one,) = given(season)
    decline(season.organiser, one.id, NOW)
    offer_to_reserve(season.organiser)

    assert who(season, given(season)[0])[0] == who(season, one)[1]


def test_declined_plants_go_to_the_reserve(season):
    (one,) = given(season)
    receiver, reserve = who(season, one)

    decline(season.ring.actor(receiver), one.id, NOW)
    plants = offer_to_reserve(season.organiser)

    (now_given,) = given(season)
    assert plants == 1
    assert who(season, now_given)[0] == reserve
    with season.house.books.reading() as tx:
        assert SPARES.get(tx, season.circle_id, season.spares["Winnie"]).allocated == 1
        assert CLAIMS.get(tx, season.circle_id, one.claim_id).withdrawn_at == NOW


def test_a_declined_claim_never_comes_back_by_itself(season):
    (one,) = given(season)
    receiver, reserve = who(season, one)
    decline(season.ring.actor(receiver), one.id, NOW)
    offer_to_reserve(season.organiser)
    (second,) = given(season)
    decline(season.ring.actor(reserve), second.id, NOW)

    assert offer_to_reserve(season.organiser) == 0
    assert given(season) == ()


def test_what_the_sender_cannot_give_is_off_the_list(season):
    (one,) = given(season)

    refuse(season.ring.actor("Winnie"), one.id, NOW)
    assert offer_to_reserve(season.organiser) == 0
    with season.house.books.reading() as tx:
        spare = SPARES.get(tx, season.circle_id, season.spares["Winnie"])
        assert PARCEL_LINES.all(tx, season.circle_id) == ()
    assert spare.withdrawn_at == NOW
    assert given(season) == ()


def test_what_is_on_its_way_is_not_taken_back(season):
    (one,) = given(season)
    parcel = season.parcel_to(who(season, one)[0])
    say_posted(season.ring.actor("Winnie"), parcel.id, NOW.date(), NOW)

    with pytest.raises(NoLongerOpenError):
        refuse(season.ring.actor("Winnie"), one.id, NOW)
    with pytest.raises(NoLongerOpenError):
        decline(season.ring.actor(who(season, one)[0]), one.id, NOW)


def test_an_answer_is_given_once(season):
    (one,) = given(season)
    refuse(season.ring.actor("Winnie"), one.id, NOW)

    for act in (agree, refuse):
        with pytest.raises(NoLongerOpenError):
            act(season.ring.actor("Winnie"), one.id, NOW)


def test_the_season_adds_up_after_the_reserve_moved_up(season):
    (one,) = given(season)
    decline(season.ring.actor(who(season, one)[0]), one.id, NOW)
    offer_to_reserve(season.organiser)
    season.plan()
    shown = season_file(season.organiser, NOW)

    assert sum(line["count"] for parcel in shown["parcels"] for line in parcel["lines"]) == 1
    assert sum(one["count"] for one in shown["allocations"]) == 1
    assert [(one["given"], one["met"]) for one in shown["claims"]] == [(1, True)]
