"""Left-overs are open to whoever comes first once a share-out is confirmed, and only one gets the last."""

from datetime import timedelta
from threading import Barrier, Thread

import pytest

from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.allocation_answers import decline, end_allocation, refuse
from exchange.actions.sharing.claims import withdraw_claim
from exchange.actions.sharing.left_overs import (
    CannotHaveItError,
    JustGoneError,
    NotOpenNowError,
    take_left_over,
)
from exchange.actions.sharing.page_left_overs import left_overs_page
from exchange.actions.sharing.page_share_outs import share_out_page
from exchange.actions.sharing.sender_answer import SenderAnswer, answer_as_sender
from exchange.actions.sharing.share_out_choices import NewChoice, choose
from exchange.actions.sharing.spares import list_spare
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.sharing.states import AllocationState
from exchange.records import LETTERS, TASKS
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW, a_house, both_databases, fresh_database
from tests.builders.season import a_spare
from tests.builders.shared import a_sharing
from tests.builders.tasks import offer_to_reserve


@pytest.fixture(params=both_databases)
def sharing(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address, a_house(tmp_path, address) as house:
        yield a_sharing(house)


@pytest.fixture
def left(sharing):
    """Two plants nobody asked for, left by a confirmed share-out."""
    spare = sharing.offer("Winnie", sharing.name(), count=2)
    sharing.all_of_it()
    return sharing, spare


def test_who_comes_first_gets_one_at_once(left):
    sharing, spare = left
    take_left_over(sharing.actor("Effie"), spare, NOW)
    assert sharing.spare_row(spare).allocated == 1
    made = sharing.given()[0]
    assert (made.spare_id, made.count, made.share_out_id) == (spare, 1, sharing.share_out_id)
    assert sharing.claim_row(made.claim_id).household_id == sharing.ring["Effie"].household_id
    with sharing.house.books.reading() as tx:
        assert TASKS.all(tx, sharing.circle_id, kind="plan", state=TaskState.WAITING)
        told = {one.member_id for one in LETTERS.all(tx, sharing.circle_id, kind="given_later")}
    assert told == {sharing.ring["Winnie"].id, sharing.ring["Effie"].id}


def test_the_change_stands_on_the_share_outs_page(left):
    sharing, spare = left
    take_left_over(sharing.actor("Effie"), spare, NOW + timedelta(hours=1))
    (later,) = share_out_page(sharing.organiser, sharing.share_out_id, NOW).later
    assert later.what == "left over, and given to who came first"
    assert later.day == NOW.date()


def test_only_one_of_many_at_once_gets_the_last(sharing):
    spare = sharing.offer("Winnie", sharing.name())
    sharing.all_of_it()
    begin, gone, got = Barrier(3), [], []

    def come(who):
        actor = sharing.actor(who)
        begin.wait()
        try:
            got.append(take_left_over(actor, spare, NOW))
        except JustGoneError:
            gone.append(who)

    threads = [Thread(target=come, args=(who,)) for who in ("Cuthbert", "Effie", "Odo")]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert (len(got), len(gone)) == (1, 2)
    assert sharing.spare_row(spare).allocated == 1
    assert len(sharing.given()) == 1


def test_an_open_claim_is_used_and_keeps_what_it_still_lacks(left):
    sharing, spare = left
    claim = sharing.ask("Effie", sharing.spare_row(spare).variety_id, asked=3)
    take_left_over(sharing.actor("Effie"), spare, NOW)
    assert sharing.standing() == {claim: 1}
    assert sharing.claim_row(claim).asked == 3


def test_nothing_is_open_while_a_share_out_runs(left):
    sharing, spare = left
    sharing.open()
    assert not left_overs_page(sharing.actor("Effie"), NOW).is_open
    with pytest.raises(NotOpenNowError):
        take_left_over(sharing.actor("Effie"), spare, NOW)


def test_nothing_is_open_before_the_first_share_out(sharing):
    spare = sharing.offer("Winnie", sharing.name())
    with pytest.raises(NotOpenNowError):
        take_left_over(sharing.actor("Effie"), spare, NOW)


def test_what_is_listed_afterwards_waits_for_the_next(left):
    sharing, spare = left
    late = sharing.name("Tin Whistle")
    actor = sharing.actor("Winnie")
    after = NOW + timedelta(days=1)
    listed = list_spare(actor, a_spare(late, 1, after), after)
    shown = {line.spare.id for line in left_overs_page(sharing.actor("Effie"), after).lines}
    assert shown == {spare}
    with pytest.raises(JustGoneError):
        take_left_over(sharing.actor("Effie"), listed, after)


def test_ones_own_cannot_be_taken(left):
    sharing, spare = left
    with pytest.raises(CannotHaveItError, match="own household"):
        take_left_over(sharing.actor("Winnie"), spare, NOW)
    assert sharing.spare_row(spare).allocated == 0


def test_without_room_it_is_said(left):
    sharing, spare = left
    place = sharing.ring.place("Effie").id
    set_shelter(sharing.actor("Effie"), NewShelter(place, ShelterKind.FROST_FREE, 1), NOW)
    take_left_over(sharing.actor("Effie"), spare, NOW)
    with pytest.raises(RefusedError, match="room"):
        take_left_over(sharing.actor("Effie"), spare, NOW)


def test_nothing_is_left_over_that_somebody_asked_for_beyond_the_most(sharing):
    """Effie asked for more than the most a household has before everybody was served; nobody else asked."""
    variety = sharing.name()
    spares = [sharing.offer(who, variety) for who in ("Winnie", "Odo", "Odo")]
    effie = sharing.ask("Effie", variety, asked=4)
    sharing.all_of_it()

    assert sharing.standing() == {effie: 3}
    assert all(sharing.spare_row(one).allocated for one in spares)


@pytest.fixture
def given(sharing):
    """One of Winnie's three is Effie's; two are left over."""
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, count=3)
    sharing.ask("Effie", variety)
    sharing.all_of_it()
    return sharing, spare, sharing.given()[0]


def on_the_page(sharing, who):
    return {line.spare.id for line in left_overs_page(sharing.actor(who), NOW).lines}


def test_what_the_sender_has_refused_a_household_is_left_over_for_others_only(given):
    sharing, spare, allocation = given
    assert on_the_page(sharing, "Effie") == {spare}
    refuse(sharing.actor("Winnie"), allocation.id, NOW)
    offer_to_reserve(sharing.organiser)
    assert on_the_page(sharing, "Effie") == set()
    assert on_the_page(sharing, "Cuthbert") == {spare}
    take_left_over(sharing.actor("Cuthbert"), spare, NOW)
    assert sharing.spare_row(spare).allocated == 1


def test_a_press_on_a_page_older_than_the_no_is_refused_as_if_it_were_gone(given):
    sharing, spare, allocation = given
    refuse(sharing.actor("Winnie"), allocation.id, NOW)
    offer_to_reserve(sharing.organiser)
    with pytest.raises(JustGoneError) as refused:
        take_left_over(sharing.actor("Effie"), spare, NOW)
    assert sharing.spare_row(spare).allocated == 0
    assert sharing.standing() == {}

    for _ in range(2):
        take_left_over(sharing.actor("Cuthbert"), spare, NOW)
    with pytest.raises(JustGoneError) as gone:
        take_left_over(sharing.actor("Odo"), spare, NOW)
    assert str(refused.value) == str(gone.value) == "It is no longer to be had."


def test_a_claim_made_anew_does_not_get_round_the_no(given):
    sharing, spare, allocation = given
    refuse(sharing.actor("Winnie"), allocation.id, NOW)
    offer_to_reserve(sharing.organiser)
    withdraw_claim(sharing.actor("Effie"), allocation.claim_id, NOW)
    with pytest.raises(JustGoneError):
        take_left_over(sharing.actor("Effie"), spare, NOW)


def test_who_is_sent_fewer_does_not_get_the_others_as_left_overs(sharing):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, count=4)
    claim = sharing.ask("Effie", variety, asked=2)
    sharing.all_of_it()
    answer_as_sender(sharing.actor("Winnie"), [SenderAnswer(sharing.given()[0].id, 1)], NOW)
    offer_to_reserve(sharing.organiser)
    with pytest.raises(JustGoneError):
        take_left_over(sharing.actor("Effie"), spare, NOW)
    assert sharing.standing() == {claim: 1}


def test_what_came_free_is_no_left_over_before_the_reserve_was_asked(sharing):
    """Effie, next in the reserve, is not overtaken by whoever presses first."""
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety)
    sharing.ask("Cuthbert", variety, choice=1)
    effie = sharing.ask("Effie", variety, choice=3)
    sharing.all_of_it()
    decline(sharing.actor("Cuthbert"), sharing.given()[0].id, NOW)
    assert on_the_page(sharing, "Odo") == set()
    with pytest.raises(JustGoneError):
        take_left_over(sharing.actor("Odo"), spare, NOW)
    offer_to_reserve(sharing.organiser)
    assert sharing.standing() == {effie: 1}


def test_who_declined_may_think_again_while_it_is_left_over(given):
    sharing, spare, allocation = given
    effie = sharing.actor("Effie")
    decline(effie, allocation.id, NOW)
    offer_to_reserve(sharing.organiser)
    assert on_the_page(sharing, "Effie") == {spare}
    take_left_over(effie, spare, NOW)
    assert sharing.spare_row(spare).allocated == 1


def test_what_waited_too_long_was_refused_by_nobody(given):
    sharing, spare, allocation = given
    with sharing.house.books.writing() as tx:
        end_allocation(tx, sharing.organiser, allocation, AllocationState.FAILED, NOW)
    assert on_the_page(sharing, "Effie") == {spare}
    take_left_over(sharing.actor("Effie"), spare, NOW)
    assert sharing.spare_row(spare).allocated == 1


def test_whom_the_organiser_keeps_apart_a_claim_made_anew_does_not_bring_together(sharing):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety)
    claim = sharing.ask("Effie", variety)
    sharing.open()
    choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, claim, None, "sick"), NOW)
    sharing.work_out()
    sharing.confirm()
    effie = sharing.actor("Effie")
    with pytest.raises(CannotHaveItError, match="keeps these two apart"):
        take_left_over(effie, spare, NOW)
    withdraw_claim(effie, claim, NOW)
    with pytest.raises(CannotHaveItError, match="keeps these two apart"):
        take_left_over(effie, spare, NOW)
    assert take_left_over(sharing.actor("Cuthbert"), spare, NOW)
