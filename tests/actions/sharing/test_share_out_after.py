"""After confirming: answers, the reserve, what is carried over; nothing changes silently."""

from datetime import timedelta

import pytest

from exchange.actions.sharing.allocation_answers import agree, decline, refuse
from exchange.actions.sharing.page_share_outs import share_out_page
from exchange.actions.sharing.sender_answer import SenderAnswer, answer_as_sender
from exchange.actions.sharing.share_out import NewShareOut, share_out_now
from exchange.domain.growing.batch import Raised
from exchange.records import LETTERS, TASKS
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW
from tests.builders.tasks import offer_to_reserve

LATER = NOW + timedelta(hours=2)


@pytest.fixture
def confirmed(sharing):
    """Two spares of one plant each and two who want one; Odo's is the reserve."""
    variety = sharing.name()
    sharing.spares = (sharing.offer("Winnie", variety), sharing.offer("Odo", variety))
    sharing.claims = {
        "Cuthbert": sharing.ask("Cuthbert", variety, choice=1),
        "Effie": sharing.ask("Effie", variety, choice=2),
    }
    sharing.all_of_it()
    return sharing


def one_for_two(sharing):
    """Share out one plant that two want: Cuthbert is given it, Effie is not."""
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.claims = {
        "Cuthbert": sharing.ask("Cuthbert", variety, choice=1),
        "Effie": sharing.ask("Effie", variety, choice=3),
    }
    sharing.all_of_it()


def allocation_of(sharing, who):
    return next(one for one in sharing.given() if one.claim_id == sharing.claims[who])


def page_of(sharing):
    return share_out_page(sharing.organiser, sharing.share_out_id, NOW)


def test_the_organiser_sees_who_has_answered(confirmed):
    assert len(page_of(confirmed).unanswered()) == 2
    one = allocation_of(confirmed, "Cuthbert")
    agree(confirmed.organiser, one.id, LATER)
    answers = {line.claim_id: line.answer for line in page_of(confirmed).giving}
    assert answers[confirmed.claims["Cuthbert"]] == "yes"
    assert len(page_of(confirmed).unanswered()) == 1


def test_a_quiet_no_stands_on_the_page_with_its_day_and_moves_nobody_else(confirmed):
    other = allocation_of(confirmed, "Effie")
    one = allocation_of(confirmed, "Cuthbert")
    refuse(confirmed.organiser, one.id, LATER)
    offer_to_reserve(confirmed.organiser, LATER)
    (later,) = page_of(confirmed).later
    assert later.what == "the sender cannot send them after all"
    assert allocation_of(confirmed, "Effie") == other
    with confirmed.house.books.reading() as tx:
        assert TASKS.all(tx, confirmed.circle_id, kind="plan", state=TaskState.WAITING)


def test_what_is_declined_goes_to_the_next_who_asked_and_is_told(sharing):
    one_for_two(sharing)
    assert sharing.standing() == {sharing.claims["Cuthbert"]: 1}
    decline(sharing.actor("Cuthbert"), allocation_of(sharing, "Cuthbert").id, LATER)
    assert offer_to_reserve(sharing.organiser, LATER) == 1
    assert sharing.standing() == {sharing.claims["Effie"]: 1}
    told = {one.what for one in page_of(sharing).later}
    assert told == {"the receiver cannot take them", "given from the reserve, by the same rules"}
    with sharing.house.books.reading() as tx:
        letters = LETTERS.all(tx, sharing.circle_id, kind="given_later")
    assert {one.member_id for one in letters} == {
        sharing.ring["Winnie"].id,
        sharing.ring["Effie"].id,
    }
    assert not any("Cuthbert" in one.body for one in letters)


def test_the_letters_say_in_place_of_what_another_variety_comes(sharing):
    wanted, other = sharing.name(), sharing.name("Tin Whistle")
    sharing.offer("Winnie", other)
    sharing.ask("Effie", wanted, alternatives=(other,))
    sharing.all_of_it()
    with sharing.house.books.reading() as tx:
        letters = LETTERS.all(tx, sharing.circle_id, kind="share_out")
    bodies = {one.member_id: one.body.replace("\u00a0", " ") for one in letters}
    instead = "‘Tin Whistle’, raised cool, in place of Dahlia ‘Chapel Lantern’"
    assert instead in bodies[sharing.ring["Effie"].id]
    assert "in place of" not in bodies[sharing.ring["Winnie"].id]


def test_declining_a_part_leaves_the_rest_of_a_claim_standing(sharing):
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.offer("Odo", variety, raised=Raised.IN_HEAT)
    claim = sharing.ask("Effie", variety, asked=2)
    sharing.claims = {"Effie": claim}
    sharing.all_of_it()
    assert sharing.standing() == {claim: 2}
    decline(sharing.actor("Effie"), sharing.given()[0].id, LATER)
    assert sharing.standing() == {claim: 1}
    row = sharing.claim_row(claim)
    assert (row.asked, row.withdrawn_at) == (1, None)


def test_after_a_quiet_no_the_same_spare_is_not_given_to_the_same_claim_again(sharing):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, count=2)
    sharing.claims = {
        "Effie": sharing.ask("Effie", variety),
        "Cuthbert": sharing.ask("Cuthbert", variety),
        "Odo": sharing.ask("Odo", variety, choice=3),
    }
    sharing.all_of_it()

    refuse(sharing.organiser, allocation_of(sharing, "Effie").id, LATER)
    given = offer_to_reserve(sharing.organiser, LATER)

    assert (given, sharing.standing()) == (0, {sharing.claims["Cuthbert"]: 1})
    row = sharing.spare_row(spare)
    assert (row.count, row.allocated, row.withdrawn_at) == (1, 1, None), "the other stays listed"
    decline(sharing.actor("Cuthbert"), allocation_of(sharing, "Cuthbert").id, LATER)
    assert offer_to_reserve(sharing.organiser, LATER) == 1
    assert sharing.standing() == {sharing.claims["Odo"]: 1}, "it may go to somebody else"


def test_who_is_sent_fewer_is_not_given_the_rest_from_the_same_spare(sharing):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, count=4)
    sharing.claims = {"Effie": sharing.ask("Effie", variety, asked=3)}
    sharing.all_of_it()
    one = allocation_of(sharing, "Effie")

    answer_as_sender(sharing.organiser, [SenderAnswer(one.id, 2)], LATER)
    given = offer_to_reserve(sharing.organiser, LATER)

    assert (given, sharing.standing()) == (0, {sharing.claims["Effie"]: 2})
    row = sharing.spare_row(spare)
    assert (row.count, row.allocated) == (3, 2)
    (later,) = page_of(sharing).later
    assert (later.what, later.count) == ("the sender cannot send them after all", 1)


def test_the_reserve_knows_what_its_claims_were_given_of_other_spares(sharing):
    """Effie has one of Winnie's; the one that comes free is for Odo, who has none, though he put it last."""
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    freed = sharing.offer("Winnie", variety)
    sharing.claims = {
        "Effie": sharing.ask("Effie", variety, asked=2, choice=1),
        "Cuthbert": sharing.ask("Cuthbert", variety, choice=1),
        "Odo": sharing.ask("Odo", variety, choice=3),
    }
    sharing.all_of_it()
    assert set(sharing.standing()) == {sharing.claims["Effie"], sharing.claims["Cuthbert"]}
    decline(sharing.actor("Cuthbert"), allocation_of(sharing, "Cuthbert").id, LATER)
    offer_to_reserve(sharing.organiser, LATER)
    assert sharing.standing() == {sharing.claims["Effie"]: 1, sharing.claims["Odo"]: 1}
    assert sharing.spare_row(freed).allocated == 1


def test_what_can_no_longer_be_sent_is_not_given_from_the_reserve(sharing):
    one_for_two(sharing)
    one = allocation_of(sharing, "Cuthbert")
    after = sharing.spare_row(one.spare_id).send_by + timedelta(days=1)
    then = NOW + (after - NOW.date())
    decline(sharing.actor("Cuthbert"), one.id, then)
    assert offer_to_reserve(sharing.organiser, then) == 0


def test_what_was_not_met_counts_in_the_next_share_out(sharing):
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.ask("Cuthbert", variety, choice=1)
    lost = sharing.ask("Effie", variety, choice=3)
    sharing.all_of_it()
    with sharing.house.books.reading() as tx:
        letters = LETTERS.all(tx, sharing.circle_id, member_id=sharing.ring["Effie"].id)
    assert any("counts in the next share-out" in one.body for one in letters)
    sharing.offer("Odo", variety)
    sharing.all_of_it()
    assert sharing.standing()[lost] == 1


def test_a_small_circle_shares_out_in_two_presses(sharing):
    sharing.about(6)
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    claim = sharing.ask("Effie", variety)
    new = NewShareOut("Today", NOW.date(), "7")
    sharing.share_out_id = share_out_now(sharing.organiser, new, NOW)
    page = page_of(sharing)
    assert (page.small, page.worked_out, page.stale, page.balance) == (True, True, False, ())
    sharing.confirm()
    assert sharing.standing() == {claim: 1}
