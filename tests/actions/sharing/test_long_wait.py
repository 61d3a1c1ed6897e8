"""After fourteen days' waiting the organiser is asked: by hand, grow on, reserve, later."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.long_wait import (
    NotWaitingError,
    TooLateToGrowOnError,
    ask_later,
    ask_organisers,
    give_to_reserve,
    grow_on,
    long_waits,
    send_by_hand,
)
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, LETTERS, SPARES
from tests.app_fixtures import a_house
from tests.builders.season import MONDAY, a_season, morning, set_terms
from tests.builders.tasks import offer_to_reserve

NOW = morning(MONDAY, 9)
LATER = NOW + timedelta(days=14)


@pytest.fixture
def season(tmp_path):
    """One plant for one of two claims, in a circle that will not risk anything by post."""
    with a_house(tmp_path) as house:
        made = a_season(house, count=1, now=NOW)
        with house.books.writing() as tx:
            set_terms(tx, made, loss_limit=0.0, loss_limit_kept=0.0)
        made.plan(NOW)
        yield made


def the_parcel(season):
    (parcel,) = season.parcels()
    return parcel


def letters(season):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, kind="long_wait")


def test_it_waits_from_the_day_it_first_had_none(season):
    assert the_parcel(season).held
    assert the_parcel(season).waiting_since == MONDAY
    season.plan(NOW + timedelta(days=3))
    assert the_parcel(season).waiting_since == MONDAY


def test_the_organiser_is_asked_after_fourteen_days_and_once(season):
    asked = [ask_organisers(season.clock, NOW + timedelta(days=day)) for day in (0, 13, 14, 15)]

    assert asked == [0, 0, 1, 1]
    (letter,) = letters(season)
    assert letter.member_id == season.ring["Winnie"].id
    assert "has waited 14\u00a0days" in letter.subject
    for choice in ("by hand", "grow on", "reserve", "later"):
        assert f"- {choice}" in letter.body
    assert the_parcel(season).code in letter.body


def test_only_the_organiser_sees_and_chooses(season):
    assert [one.waited for one in long_waits(season.organiser, LATER)] == [14]
    for act in (send_by_hand, grow_on, give_to_reserve, ask_later):
        with pytest.raises(NotAllowedError):
            act(season.ring.actor("Effie"), the_parcel(season).id, LATER)
    with pytest.raises(NotAllowedError):
        long_waits(season.ring.actor("Effie"), LATER)


def test_later_asks_again_two_weeks_on(season):
    ask_organisers(season.clock, LATER)
    ask_later(season.organiser, the_parcel(season).id, LATER)

    days = [ask_organisers(season.clock, LATER + timedelta(days=day)) for day in (0, 13, 14)]
    assert days == [0, 0, 1]
    assert len(letters(season)) == 2


def test_by_hand_gives_it_a_way_the_weather_at_the_post_cannot_stop(season):
    with season.house.books.writing() as tx:
        set_terms(tx, season, loss_limit=0.9, loss_limit_kept=0.9)
    send_by_hand(season.organiser, the_parcel(season).id, LATER)
    season.plan(LATER)

    parcel = the_parcel(season)
    assert parcel.chosen_way_id is not None
    assert parcel.way_id == parcel.chosen_way_id
    assert not parcel.held


def test_grown_on_they_go_later_as_young_plants(season):
    day = grow_on(season.organiser, the_parcel(season).id, LATER)
    with season.house.books.reading() as tx:
        spare = SPARES.get(tx, season.circle_id, season.spares["Winnie"])

    assert day == spare.ready_from == LATER.date() + timedelta(days=21)
    assert spare.material is Material.YOUNG_PLANT
    assert the_parcel(season).waiting_since is None


def test_what_would_be_ready_too_late_is_not_grown_on(season):
    with season.house.books.writing() as tx:
        SPARES.change(
            tx,
            season.circle_id,
            season.spares["Winnie"],
            send_by=LATER.date() + timedelta(days=20),
        )

    with pytest.raises(TooLateToGrowOnError):
        grow_on(season.organiser, the_parcel(season).id, LATER)


def test_the_reserve_has_them_and_the_first_claim_does_not_come_back(season):
    first = the_parcel(season)
    give_to_reserve(season.organiser, first.id, LATER)
    given = offer_to_reserve(season.organiser, LATER)
    season.plan(LATER)
    with season.house.books.reading() as tx:
        standing = ALLOCATIONS.all(tx, season.circle_id, state=STANDING)
        failed = ALLOCATIONS.all(tx, season.circle_id, state=AllocationState.FAILED)

    assert given == 1
    assert len(standing) == len(failed) == 1
    assert standing[0].claim_id != failed[0].claim_id
    assert the_parcel(season).receiver_household_id != first.receiver_household_id


def test_a_parcel_that_goes_after_all_is_not_chosen_about(season):
    with season.house.books.writing() as tx:
        set_terms(tx, season, loss_limit=0.9, loss_limit_kept=0.9)
    season.plan(NOW)

    assert not the_parcel(season).held
    with pytest.raises(NotWaitingError):
        ask_later(season.organiser, the_parcel(season).id, NOW)
