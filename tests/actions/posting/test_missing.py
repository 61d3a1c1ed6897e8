"""Plants that did not live: the claim lacks them again, the reserve is asked, the sender is told."""

from collections import Counter
from datetime import timedelta

import pytest

from exchange.actions.posting.missing import missing_lines
from exchange.actions.posting.parcels import Arrival, not_arrived, say_arrived
from exchange.actions.sharing.not_sent import not_sent_of
from exchange.actions.sharing.share_out_case import given_and_received
from exchange.domain.arriving.arrival import Condition
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, BATCHES, LETTERS, PARCEL_LINES, SPARES
from exchange.records.claims import open_claims
from tests.app_fixtures import a_house
from tests.builders.season import MONDAY, a_season, again, announce, morning
from tests.builders.tasks import offer_to_reserve, waiting

TUESDAY = MONDAY + timedelta(days=1)
LATER = morning(TUESDAY, 17)


@pytest.fixture
def more(tmp_path):
    """Two plants for Effie, and one that nobody was given."""
    with a_house(tmp_path) as house:
        season = a_season(house, claimants=("Effie",), asked=2, count=3)
        announce(season)
        yield season


def effie(season):
    return season.ring.actor("Effie")


def arrive(season, **said):
    parcel = season.parcel_to("Effie")
    return say_arrived(effie(season), parcel.id, Arrival(TUESDAY, **said), LATER)


def kept_of(season):
    with season.house.books.reading() as tx:
        return Counter(
            {
                state: sum(one.count for one in ALLOCATIONS.all(tx, season.circle_id, state=state))
                for state in AllocationState
            }
        )


def alive_of(season, count):
    with season.house.books.reading() as tx:
        rows = PARCEL_LINES.all(tx, season.circle_id, parcel_id=season.parcel_to("Effie").id)
    return {rows[0].allocation_id: count}


def letters_to(season, name, kind):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, member_id=season.ring[name].id, kind=kind)


def test_a_lost_parcel_opens_its_claim_again_and_asks_the_reserve(season):
    arrive(season, lost=True)

    with season.house.books.reading() as tx:
        assert [one.id for one in open_claims(tx, season.circle_id)] == [season.claims["Effie"]]
    assert waiting(season.organiser, "reserve") == [season.variety_id]
    assert kept_of(season)[AllocationState.LOST] == 1


def test_the_reserve_sends_another_plant_of_the_same_spare(more):
    arrive(more, lost=True)

    assert offer_to_reserve(more.organiser, LATER) == 1
    assert kept_of(more)[AllocationState.LOST] == 2
    with more.house.books.reading() as tx:
        assert SPARES.get(tx, more.circle_id, more.spares["Winnie"]).allocated == 3


def test_where_nothing_is_left_the_receiver_is_told_that_it_did_not_come_alive(season):
    arrive(season, lost=True)
    offer_to_reserve(season.organiser, LATER)

    (letter,) = letters_to(season, "Effie", "not_sent")
    assert "it did not come alive, and there was nothing to send instead" in letter.body
    with season.house.books.reading() as tx:
        lacks, sentence = not_sent_of(tx, season.circle_id, frozenset())[season.claims["Effie"]]
    assert lacks == 1
    assert "did not come alive" in sentence


def test_of_two_plants_the_dead_one_is_lacking_and_the_other_stands(more):
    arrive(more, condition=Condition.HURT, alive=alive_of(more, 1))

    kept = kept_of(more)
    assert (kept[AllocationState.LOST], kept[AllocationState.CONFIRMED]) == (1, 1)
    with more.house.books.reading() as tx:
        batches = BATCHES.all(tx, more.circle_id, household_id=more.ring["Effie"].household_id)
        lines = missing_lines(tx, more.circle_id, more.parcel_to("Effie").id)
    assert [one.plants for one in batches] == [1]
    assert len(lines) == 1
    assert lines[0].startswith("1\u00a0")


def test_all_alive_changes_nothing_of_what_was_given(season):
    before = kept_of(season)
    arrive(season)

    assert kept_of(season) == before
    assert not waiting(season.organiser, "reserve")
    assert not letters_to(season, "Winnie", "came_to_harm")


def test_the_sender_is_told_once_without_blame(season):
    arrive(season, lost=True)

    (letter,) = letters_to(season, "Winnie", "came_to_harm")
    assert letter.subject.endswith("never came")
    assert "Chapel Lantern" in letter.body
    assert "Nothing is held against you." in letter.body


def test_taken_back_all_stands_as_given_again(more):
    arrive(more, condition=Condition.HURT, alive=alive_of(more, 1))
    not_arrived(effie(more), more.parcel_to("Effie").id, LATER)

    kept = kept_of(more)
    assert kept[AllocationState.LOST] == 0
    assert kept[AllocationState.CONFIRMED] + kept[AllocationState.AGREED] == 2
    with more.house.books.reading() as tx:
        assert not open_claims(tx, more.circle_id)


def test_a_lost_parcel_that_comes_after_all_is_told_over_the_loss(season):
    arrive(season, lost=True)
    assert arrive(season)

    assert kept_of(season)[AllocationState.LOST] == 0
    assert again(season, season.parcel_to("Effie")).condition == Condition.WELL


def test_what_was_lost_counts_as_given_and_not_as_received(season):
    arrive(season, lost=True)

    with season.house.books.reading() as tx:
        given, received = given_and_received(tx, season.circle_id)
    assert given[season.ring["Winnie"].household_id] == 2
    assert season.ring["Effie"].household_id not in received
