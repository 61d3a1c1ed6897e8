"""The reserve at its edges: who may give from it, whom a no concerns, and what follows from giving."""

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.allocation_answers import decline, refuse
from exchange.actions.sharing.reserve import give_from_reserve, with_the_reserve
from exchange.actions.sharing.share_out import (
    NewShareOut,
    ask_to_work_out,
    confirm_share_out,
    share_out_now,
)
from exchange.domain.optimise.programme import never_stop
from exchange.records import LETTERS, TASKS, tasks
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW
from tests.builders.tasks import asked_for, offer_to_reserve, waiting


@pytest.fixture
def lantern(sharing):
    sharing.variety = sharing.name()
    return sharing


def allocation_of(sharing, claim_id):
    return next(one.id for one in sharing.given() if one.claim_id == claim_id)


def declined_by(sharing, who, claim_id):
    decline(sharing.actor(who), allocation_of(sharing, claim_id), NOW)


@pytest.fixture
def free(lantern):
    """Cuthbert has declined Winnie's one plant, and Effie is next."""
    lantern.offer("Winnie", lantern.variety)
    cuthbert = lantern.ask("Cuthbert", lantern.variety, choice=1)
    lantern.effie = lantern.ask("Effie", lantern.variety, choice=3)
    lantern.all_of_it()
    declined_by(lantern, "Cuthbert", cuthbert)
    return lantern


def letters_of(sharing):
    with sharing.house.books.reading() as tx:
        return len(LETTERS.all(tx, sharing.circle_id))


def every_task_is_done(sharing):
    with sharing.house.books.writing() as tx:
        for one in TASKS.all(tx, sharing.circle_id, state=TaskState.WAITING):
            tasks.end(tx, one.id, TaskState.DONE, NOW)


def test_a_member_gives_nothing_from_the_reserve(free):
    with pytest.raises(NotAllowedError):
        give_from_reserve(free.actor("Effie"), free.variety, never_stop, NOW)

    assert free.standing() == {}


def test_what_the_reserve_gives_is_told_and_its_parcels_are_planned(free):
    every_task_is_done(free)
    before = letters_of(free)

    given = give_from_reserve(free.organiser, free.variety, never_stop, NOW)

    assert (given, free.standing()) == (1, {free.effie: 1})
    assert letters_of(free) > before
    assert waiting(free.organiser, "plan") == [None]


def test_only_what_waits_for_the_reserve_is_with_the_reserve(free):
    other = free.name("Tin Whistle")
    asked_for(free.organiser, "share_out", other)

    with free.house.books.reading() as tx:
        held = with_the_reserve(tx, free.circle_id)

    assert held == {free.variety}


def test_a_no_to_one_household_does_not_stop_the_next(lantern):
    lantern.offer("Winnie", lantern.variety, count=2)
    effie = lantern.ask("Effie", lantern.variety, choice=1)
    odo = lantern.ask("Odo", lantern.variety, choice=1)
    cuthbert = lantern.ask("Cuthbert", lantern.variety, choice=3)
    lantern.all_of_it()
    assert lantern.standing() == {effie: 1, odo: 1}
    refuse(lantern.organiser, allocation_of(lantern, effie), NOW)
    declined_by(lantern, "Odo", odo)

    assert offer_to_reserve(lantern.organiser, NOW) == 1

    assert lantern.standing() == {cuthbert: 1}


def test_who_was_given_some_of_a_spare_may_be_given_the_rest(lantern):
    lantern.offer("Winnie", lantern.variety, count=2)
    cuthbert = lantern.ask("Cuthbert", lantern.variety)
    effie = lantern.ask("Effie", lantern.variety, asked=2)
    lantern.all_of_it()
    assert lantern.standing() == {cuthbert: 1, effie: 1}
    declined_by(lantern, "Cuthbert", cuthbert)

    assert offer_to_reserve(lantern.organiser, NOW) == 1

    assert lantern.standing() == {effie: 2}


def test_a_member_asks_for_no_share_out(lantern):
    lantern.open()

    with pytest.raises(NotAllowedError):
        ask_to_work_out(lantern.actor("Effie"), lantern.share_out_id, NOW)
    with pytest.raises(NotAllowedError):
        share_out_now(lantern.actor("Effie"), NewShareOut("Now", NOW.date(), "12"), NOW)


def test_confirming_counts_the_claims_met_in_full(lantern):
    lantern.offer("Winnie", lantern.variety, count=2)
    lantern.ask("Cuthbert", lantern.variety)
    lantern.ask("Effie", lantern.variety)
    lantern.ask("Odo", lantern.variety, choice=3)
    lantern.open()
    lantern.work_out()

    done = confirm_share_out(lantern.organiser, lantern.share_out_id, NOW)

    assert (done.plants, done.met) == (2, 2)
