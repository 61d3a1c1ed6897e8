"""After a sender's no without substitute the claim says so, its person is written to, and it is not called met."""

import pytest

from exchange.actions.sharing.allocation_answers import decline, end_allocation, refuse
from exchange.actions.sharing.page_claim_answer import claim_why_page
from exchange.actions.sharing.page_claims import claims_page
from exchange.actions.sharing.page_share_outs import share_out_page
from exchange.actions.sharing.reserve import ask_reserve, give_from_reserve
from exchange.actions.sharing.sender_answer import SenderAnswer, answer_as_sender
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.states import AllocationState
from exchange.records import LETTERS
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import rows
from tests.builders.tasks import offer_to_reserve

LOOKED_AT = (
    "1 plant given to this claim cannot be sent after all; whether others can be sent instead"
    " is being looked at."
)
NOTHING = (
    "1 plant given to this claim cannot be sent after all, and there was nothing to send instead."
)


@pytest.fixture
def given(sharing):
    """Winnie is to send Effie all she asked for; nobody else has any."""
    sharing.variety = sharing.name()
    sharing.offer("Winnie", sharing.variety, count=2)
    sharing.wish = sharing.ask("Effie", sharing.variety, asked=2)
    sharing.all_of_it()
    return sharing


def one_cannot_go(sharing):
    (one,) = sharing.given()
    answer_as_sender(sharing.actor("Winnie"), [SenderAnswer(one.id, 1)], NOW)


def told(sharing):
    """Give what the claim's page, the list of claims and the share-out's page say of it."""
    effie = sharing.actor("Effie")
    why = claim_why_page(effie, sharing.wish, NOW).sentence
    (listed,) = (one.reason for one in claims_page(effie, NOW).lines)
    (line,) = share_out_page(sharing.organiser, sharing.share_out_id, NOW).answers
    assert why == listed == line.sentence
    return why.replace("\u00a0", " "), line.came, line.given


def letters(sharing):
    return rows(sharing, LETTERS, kind="not_sent")


def test_what_is_met_is_called_met(given):
    assert told(given) == ("Met in full.", "met", 2)


def test_a_part_that_cannot_go_is_said_and_never_reads_met_in_full(given):
    one_cannot_go(given)
    assert told(given) == (LOOKED_AT, "part", 1)
    assert letters(given) == ()

    offer_to_reserve(given.organiser)

    assert told(given) == (NOTHING, "part", 1)


def test_when_nothing_goes_the_claim_is_not_sent_rather_than_given_to_others(given):
    (one,) = given.given()
    refuse(given.actor("Winnie"), one.id, NOW)
    offer_to_reserve(given.organiser)

    sentence, came, plants = told(given)

    assert (came, plants) == ("unsent", 0)
    assert sentence.startswith("2 plants given to this claim cannot be sent after all, and")


def test_its_person_is_written_to_once_and_the_letter_names_nobody(given):
    one_cannot_go(given)
    for _ in range(2):
        offer_to_reserve(given.organiser)
        with given.house.books.writing() as tx:
            ask_reserve(tx, given.organiser, given.variety, NOW)

    (letter,) = letters(given)

    assert letter.member_id == given.ring["Effie"].id
    body = letter.body.replace("\u00a0", " ")
    assert "1 rooted cutting of Dahlia ‘Chapel Lantern’" in body
    assert "Your claim for 1 plant stays open and counts in the next share-out." in body
    assert "Winnie" not in body


def test_who_is_sent_another_instead_has_lost_nothing_and_is_told_of_that_alone(sharing):
    variety = sharing.name()
    spares = {who: sharing.offer(who, variety) for who in ("Winnie", "Odo")}
    sharing.wish = sharing.ask("Effie", variety)
    sharing.all_of_it()
    (one,) = sharing.given()
    sender = next(who for who, spare in spares.items() if spare == one.spare_id)

    refuse(sharing.actor(sender), one.id, NOW)
    offer_to_reserve(sharing.organiser)

    assert sharing.standing() == {sharing.wish: 1}
    assert told(sharing) == ("Met in full.", "met", 1)
    assert letters(sharing) == ()


def test_what_the_receiver_declined_is_not_called_unsent(given):
    (one,) = given.given()
    decline(given.actor("Effie"), one.id, NOW)
    offer_to_reserve(given.organiser)

    assert letters(given) == ()
    (line,) = share_out_page(given.organiser, given.share_out_id, NOW).answers
    assert line.came == "met", "as it was decided; the change stands under its day"


def test_what_waited_too_long_is_told_in_the_same_way(given):
    (one,) = given.given()
    with given.house.books.writing() as tx:
        end_allocation(tx, given.organiser, one, AllocationState.FAILED, NOW)
        ask_reserve(tx, given.organiser, given.variety, NOW)
    offer_to_reserve(given.organiser)

    sentence, came, plants = told(given)

    assert (came, plants, len(letters(given))) == ("unsent", 0, 1)
    assert "cannot be sent after all" in sentence


def test_the_reserve_and_its_letter_are_kept_together_or_not_at_all(given, monkeypatch):
    one_cannot_go(given)
    before = dump(given.house.books)
    break_at(monkeypatch, "exchange.actions.sharing.not_sent.write")

    with pytest.raises(BrokenError):
        give_from_reserve(given.organiser, given.variety, never_stop, NOW)
    assert dump(given.house.books) == before
