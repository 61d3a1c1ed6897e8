"""Who is next when plants come free: those in the share-out; later claims wait for the next one."""

from datetime import timedelta

import pytest

from exchange.actions.sharing import reserve
from exchange.actions.sharing.allocation_answers import decline, refuse
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.left_overs import take_left_over
from exchange.actions.sharing.reserve import give_from_reserve
from exchange.actions.sharing.share_out import (
    NewShareOut,
    confirm_share_out,
    open_share_out,
    work_out_share_out,
)
from exchange.actions.sharing.spares import list_spare
from exchange.domain.optimise.programme import Stopped, never_stop
from exchange.records import TASKS, tasks
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW
from tests.builders.season import a_spare
from tests.builders.tasks import offer_to_reserve, waiting

LATER = NOW + timedelta(hours=2)
LATER_STILL = LATER + timedelta(hours=2)


@pytest.fixture
def one_plant(sharing):
    """Winnie's one plant is Cuthbert's."""
    sharing.variety = sharing.name()
    sharing.spare = sharing.offer("Winnie", sharing.variety)
    sharing.cuthbert = sharing.ask("Cuthbert", sharing.variety)
    return sharing


def ask_later(sharing, who, **changes):
    return claim(sharing.actor(who), NewClaim(sharing.variety, **changes), LATER)


def share_out_again(sharing, at):
    new = NewShareOut("Late", at.date(), "12")
    sharing.share_out_id = open_share_out(sharing.organiser, new, at)
    work_out_share_out(sharing.organiser, sharing.share_out_id, never_stop, at)
    confirm_share_out(sharing.organiser, sharing.share_out_id, at)


def allocation_of(sharing, claim_id):
    return next(one.id for one in sharing.given() if one.claim_id == claim_id)


def freed(sharing):
    """Let Cuthbert decline, and give how many went to the reserve."""
    allocation = allocation_of(sharing, sharing.cuthbert)
    decline(sharing.actor("Cuthbert"), allocation, LATER_STILL)
    return offer_to_reserve(sharing.organiser, LATER_STILL)


def test_a_claim_made_since_does_not_come_before_one_that_was_in_the_share_out(one_plant):
    effie = one_plant.ask("Effie", one_plant.variety, choice=3)
    one_plant.all_of_it()
    ask_later(one_plant, "Odo", choice=1)
    assert freed(one_plant) == 1
    assert one_plant.standing() == {effie: 1}


def test_a_claim_made_since_waits_for_the_next_share_out_even_where_nobody_else_asked(one_plant):
    one_plant.all_of_it()
    odo = ask_later(one_plant, "Odo")
    assert (freed(one_plant), one_plant.standing()) == (0, {})
    share_out_again(one_plant, LATER_STILL)
    assert one_plant.standing() == {odo: 1}


def test_who_waits_for_the_next_may_take_what_is_left_over_at_once(one_plant):
    one_plant.all_of_it()
    odo = ask_later(one_plant, "Odo")
    freed(one_plant)
    take_left_over(one_plant.actor("Odo"), one_plant.spare, LATER_STILL)
    assert one_plant.standing() == {odo: 1}


def test_who_came_since_and_took_a_left_over_keeps_it_and_is_given_no_more(one_plant):
    two = one_plant.offer("Odo", one_plant.variety, count=2)
    one_plant.all_of_it()
    (given,) = one_plant.given()
    left = two if given.spare_id == one_plant.spare else one_plant.spare
    effie = ask_later(one_plant, "Effie", asked=3)
    take_left_over(one_plant.actor("Effie"), left, LATER)
    assert freed(one_plant) == 0
    assert one_plant.standing() == {effie: 1}


def test_a_spare_listed_since_waits_for_the_next_share_out(one_plant):
    one_plant.all_of_it()
    late = list_spare(one_plant.actor("Odo"), a_spare(one_plant.variety, 1, LATER), LATER)
    allocation = allocation_of(one_plant, one_plant.cuthbert)
    refuse(one_plant.organiser, allocation, LATER_STILL)
    assert offer_to_reserve(one_plant.organiser, LATER_STILL) == 0
    assert one_plant.spare_row(late).allocated == 0
    share_out_again(one_plant, LATER_STILL)
    assert one_plant.standing() == {one_plant.cuthbert: 1}


def test_a_claim_of_an_earlier_share_out_is_in_the_reserve_of_the_last(one_plant):
    """What Cuthbert was given in the first fails only after the second; he is next for what Odo listed between."""
    one_plant.all_of_it()
    listed = list_spare(one_plant.actor("Odo"), a_spare(one_plant.variety, 1, LATER), LATER)
    share_out_again(one_plant, LATER)
    allocation = allocation_of(one_plant, one_plant.cuthbert)
    refuse(one_plant.organiser, allocation, LATER_STILL)
    assert offer_to_reserve(one_plant.organiser, LATER_STILL) == 1
    assert one_plant.standing() == {one_plant.cuthbert: 1}
    assert one_plant.spare_row(listed).allocated == 1


def test_a_no_holds_for_every_claim_of_the_household(sharing):
    """Effie would take it in place of another variety too, but not even then is Winnie asked again."""
    variety, other = sharing.name(), sharing.name("Tin Whistle")
    sharing.offer("Winnie", variety, count=2)
    effie = sharing.ask("Effie", variety)
    sharing.ask("Effie", other, alternatives=(variety,), choice=3)
    odo = sharing.ask("Odo", variety)
    sharing.all_of_it()
    assert sharing.standing() == {effie: 1, odo: 1}
    refuse(sharing.organiser, allocation_of(sharing, effie), LATER)
    decline(sharing.actor("Odo"), allocation_of(sharing, odo), LATER)
    assert offer_to_reserve(sharing.organiser, LATER) == 0
    assert sharing.standing() == {}


@pytest.fixture
def free(one_plant):
    """Cuthbert has declined; Effie is next, and the reserve has not been looked at."""
    one_plant.effie = one_plant.ask("Effie", one_plant.variety, choice=3)
    one_plant.all_of_it()
    decline(one_plant.actor("Cuthbert"), allocation_of(one_plant, one_plant.cuthbert), LATER)
    return one_plant


def changed_while_solving(monkeypatch, sharing, times):
    """Let the circle's facts change a number of times while the reserve is worked out."""
    solve = reserve.give_reserve
    left = [times]

    def solving(*given):
        if left[0]:
            left[0] -= 1
            sharing.offer("Odo", sharing.name(f"Late {left[0]}"))
        return solve(*given)

    monkeypatch.setattr(reserve, "give_reserve", solving)


def test_the_answer_asks_for_the_reserve_and_for_a_plan_after_it(free):
    assert (waiting(free.organiser, "reserve"), waiting(free.organiser, "plan")) == (
        [free.variety],
        [None],
    )
    assert free.standing() == {}


def test_what_was_worked_out_from_older_facts_is_worked_out_again(free, monkeypatch):
    changed_while_solving(monkeypatch, free, 1)
    assert offer_to_reserve(free.organiser, LATER) == 1
    assert free.standing() == {free.effie: 1}


def test_where_the_facts_change_each_time_the_reserve_is_asked_for_anew(free, monkeypatch):
    changed_while_solving(monkeypatch, free, reserve.TRIES)
    assert offer_to_reserve(free.organiser, LATER) == 0
    assert waiting(free.organiser, "reserve") == [free.variety]
    assert offer_to_reserve(free.organiser, LATER) == 1
    assert free.standing() == {free.effie: 1}


def test_stopped_it_gives_nothing(free):
    with pytest.raises(Stopped):
        give_from_reserve(free.organiser, free.variety, lambda *_told: True, LATER)
    assert free.standing() == {}


def test_facts_that_change_twice_are_worked_out_a_third_time(free, monkeypatch):
    changed_while_solving(monkeypatch, free, 2)

    assert offer_to_reserve(free.organiser, LATER) == 1
    assert waiting(free.organiser, "reserve") == []


def test_before_any_share_out_nothing_is_given_from_the_reserve(sharing):
    variety = sharing.name()

    assert give_from_reserve(sharing.organiser, variety, never_stop, NOW) == 0


def test_a_plan_is_asked_for_though_none_was_waiting(free):
    with free.house.books.writing() as tx:
        for one in TASKS.all(tx, free.circle_id, state=TaskState.WAITING):
            tasks.end(tx, one.id, TaskState.DONE, LATER)
        reserve.ask_reserve(tx, free.organiser, free.variety, LATER)

    assert waiting(free.organiser, "plan") == [None]
