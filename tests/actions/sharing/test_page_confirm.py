"""What confirming will do is shown before it is done, and is what it then does."""

from dataclasses import replace

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.page_confirm import confirm_page
from exchange.actions.sharing.share_out import confirm_share_out
from exchange.actions.sharing.share_out_state import AlreadyConfirmedError
from exchange.mail.sending import MailServer
from exchange.records import LETTERS, MEMBERS
from exchange.records.rows.running import LetterState
from tests.app_fixtures import NOW
from tests.builders.offers import rows


@pytest.fixture
def worked_out(sharing):
    """Three of Winnie's for Odo, who has no mail, and Cuthbert; Effie gets none and is told why."""
    variety = sharing.name()
    sharing.offer("Winnie", variety, count=2)
    sharing.ask("Odo", variety, choice=1)
    sharing.ask("Cuthbert", variety, choice=1)
    sharing.ask("Effie", variety, choice=3)
    sharing.open()
    sharing.work_out()
    return sharing


def page_of(sharing):
    return confirm_page(sharing.organiser, sharing.share_out_id, NOW)


@pytest.mark.parametrize("mail", [None, MailServer("127.0.0.1", 25)])
def test_the_letters_it_tells_of_are_the_letters_it_writes(worked_out, mail):
    organiser = replace(worked_out.organiser, house=replace(worked_out.house, mail=mail))
    told = confirm_page(organiser, worked_out.share_out_id, NOW).letters

    confirm_share_out(organiser, worked_out.share_out_id, NOW)

    written = rows(worked_out, LETTERS, kind="share_out")
    by_hand = sum(one.state is LetterState.BY_HAND for one in written)
    assert (told.by_mail, told.by_hand) == (len(written) - by_hand, by_hand)
    assert told.all_together == 4
    assert told.by_hand == (4 if mail is None else 1)


def test_who_has_left_gets_no_letter_and_is_not_counted(worked_out):
    with worked_out.house.books.writing() as tx:
        MEMBERS.change(tx, worked_out.circle_id, worked_out.ring["Effie"].id, left_at=NOW)

    assert page_of(worked_out).letters.all_together == 3


def test_plants_and_claims_it_tells_of_are_those_that_are_given_and_met(worked_out):
    page = page_of(worked_out)

    worked_out.confirm()

    assert (page.plants, page.senders, page.receivers) == (2, 1, 2)
    assert page.plants == sum(worked_out.standing().values())
    assert (page.met, page.claims) == (2, 3)


def test_it_is_not_ready_before_it_is_worked_out_nor_after_a_change(worked_out):
    assert page_of(worked_out).ready

    worked_out.ask("Effie", worked_out.name("Tin Kettle"))

    assert not page_of(worked_out).ready


def test_it_is_asked_once_and_only_of_the_organiser(worked_out):
    with pytest.raises(NotAllowedError):
        confirm_page(worked_out.actor("Effie"), worked_out.share_out_id, NOW)
    worked_out.confirm()
    with pytest.raises(AlreadyConfirmedError):
        page_of(worked_out)


def test_confirming_an_empty_share_out_loses_no_claim(sharing):
    """Nobody lists it yet; the claim is met in the next share-out, in which somebody does."""
    variety = sharing.name()
    claim = sharing.ask("Effie", variety, asked=2)
    sharing.open("1")
    sharing.work_out()
    page = page_of(sharing)
    sharing.confirm()
    assert (page.plants, page.met, page.claims) == (0, 0, 1)
    assert sharing.claim_row(claim).withdrawn_at is None

    sharing.offer("Winnie", variety, count=2)
    sharing.all_of_it()

    assert sharing.standing() == {claim: 2}
