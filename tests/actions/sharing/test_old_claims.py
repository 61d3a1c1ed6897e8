"""An old claim lapses only after a letter has asked, is told of in one letter, and is revived by one press."""

from datetime import timedelta

import pytest

from exchange.actions.home.answer_by_link import (
    PressedLink,
    StillWanted,
    answer_by_link,
    question_of,
)
from exchange.actions.kernel.actor import NotAllowedError, clock_actor
from exchange.actions.kernel.links import LinkGoneError, Purpose
from exchange.actions.sharing.claims import ASKED_AGAIN_AFTER, put_claim_back, say_still_wanted
from exchange.actions.sharing.old_claims import LAPSES_AFTER, OldClaims, look_at_old_claims
from exchange.actions.sharing.page_claims import claims_page
from exchange.records import LETTERS
from exchange.records.rows.running import LetterState
from tests.app_fixtures import NOW, token_of
from tests.builders.breaking import BrokenError, break_at, dump

ASKED = NOW + ASKED_AGAIN_AFTER + timedelta(days=1)
LATE = ASKED + LAPSES_AFTER
DAY = timedelta(days=1)
STEPS = "exchange.actions.sharing.old_claims"


@pytest.fixture
def waiting(sharing):
    """Effie and Odo, who has no mail, asked for what nobody lists."""
    sharing.wish = sharing.ask("Effie", sharing.name())
    sharing.odos = sharing.ask("Odo", sharing.name("Tin Kettle"))
    sharing.all_of_it()
    return sharing


def look(sharing, now):
    return look_at_old_claims(clock_actor(sharing.house, sharing.circle_id), now)


def letters(sharing, who, kind):
    with sharing.house.books.reading() as tx:
        return LETTERS.all(tx, sharing.circle_id, member_id=sharing.ring[who].id, kind=kind)


def link_in(letter):
    (found,) = [line for line in letter.body.splitlines() if "/answer/still-wanted/" in line]
    return PressedLink(token_of(found), Purpose.STILL_WANTED)


def counts(sharing):
    return sharing.claim_row(sharing.wish).withdrawn_at is None


def test_each_household_is_asked_once_in_the_next_season(waiting):
    assert look(waiting, NOW + timedelta(days=270)) == OldClaims()
    assert look(waiting, ASKED) == OldClaims(asked=2)
    assert look(waiting, ASKED + DAY) == OldClaims()

    (letter,) = letters(waiting, "Effie", "still_wanted")
    text = letter.body.replace("\xa0", " ")
    assert "1 of Dahlia ‘Chapel Lantern’, asked for on Mon 5 April 2027" in text
    assert "it lapses after 30 days" in text
    (by_hand,) = letters(waiting, "Odo", "still_wanted")
    assert by_hand.state is LetterState.BY_HAND


def test_without_a_question_nothing_lapses_however_old_it_is(waiting):
    assert look(waiting, ASKED + 10 * LAPSES_AFTER) == OldClaims(asked=2)
    assert counts(waiting)


def test_not_answered_it_lapses_a_month_after_and_is_told_once(waiting):
    look(waiting, ASKED)

    assert look(waiting, LATE - DAY) == OldClaims()
    assert look(waiting, LATE) == OldClaims(lapsed=2)
    assert look(waiting, LATE + DAY) == OldClaims()

    assert not counts(waiting)
    assert len(letters(waiting, "Effie", "claim_lapsed")) == 1
    assert letters(waiting, "Odo", "claim_lapsed")[0].state is LetterState.BY_HAND
    page = claims_page(waiting.actor("Effie"), LATE)
    assert [one.claim.id for one in page.lapsed] == [waiting.wish]
    assert page.lines == ()


def test_answered_on_its_row_it_does_not_lapse_and_is_asked_about_a_season_later(waiting):
    look(waiting, ASKED)
    say_still_wanted(waiting.actor("Effie"), waiting.wish, ASKED + DAY)

    assert look(waiting, LATE) == OldClaims(lapsed=1)
    assert counts(waiting)
    assert look(waiting, LATE + ASKED_AGAIN_AFTER) == OldClaims(asked=1)


def test_the_day_after_which_it_lapses_stands_on_its_row_once_a_letter_has_asked(waiting):
    effie = waiting.actor("Effie")
    before = [one.lapses_after for one in claims_page(effie, ASKED).lines]
    look(waiting, ASKED)

    assert before == [None]
    assert [one.lapses_after for one in claims_page(effie, ASKED).lines] == [LATE.date()]


def test_while_a_share_out_is_open_nothing_lapses(waiting):
    look(waiting, ASKED)
    waiting.open()

    assert look(waiting, LATE + DAY) == OldClaims()
    assert counts(waiting)


def test_lapsed_it_is_revived_by_one_press(waiting):
    look(waiting, ASKED)
    look(waiting, LATE)

    put_claim_back(waiting.actor("Effie"), waiting.wish, LATE + DAY)

    assert counts(waiting)
    assert claims_page(waiting.actor("Effie"), LATE + DAY).lapsed == ()
    assert look(waiting, LATE + DAY) == OldClaims(), "and is not asked about again this season"


def test_made_anew_it_is_no_longer_shown_as_lapsed(waiting):
    look(waiting, ASKED)
    look(waiting, LATE)

    waiting.ask("Effie", waiting.claim_row(waiting.wish).variety_id)

    assert claims_page(waiting.actor("Effie"), LATE).lapsed == ()
    put_claim_back(waiting.actor("Effie"), waiting.wish, LATE)
    assert not counts(waiting), "it is not asked for twice"


@pytest.mark.parametrize("kind", ["still_wanted", "claim_lapsed"])
def test_the_link_of_either_letter_lets_it_stand_and_works_once(waiting, kind):
    look(waiting, ASKED)
    if kind == "claim_lapsed":
        look(waiting, LATE)
    pressed_at = LATE + DAY if kind == "claim_lapsed" else ASKED + DAY
    link = link_in(letters(waiting, "Effie", kind)[0])
    asked = question_of(waiting.house, link, pressed_at).old

    answered = answer_by_link(waiting.house, link, StillWanted(), pressed_at)

    assert [one.claim.id for one in asked] == [waiting.wish]
    assert answered.claims == 1
    assert counts(waiting)
    assert waiting.claim_row(waiting.wish).wanted_at == pressed_at
    with pytest.raises(LinkGoneError):
        answer_by_link(waiting.house, link, StillWanted(), pressed_at)
    assert waiting.claim_row(waiting.odos).wanted_at is None, "another household's is not touched"


@pytest.mark.parametrize("step", ["make_link", "write", "note"])
def test_what_breaks_in_the_middle_keeps_nothing(waiting, monkeypatch, step):
    look(waiting, ASKED)
    before = dump(waiting.house.books)

    with monkeypatch.context() as patched:
        break_at(patched, f"{STEPS}.{step}")
        with pytest.raises(BrokenError):
            look(waiting, LATE)

    assert dump(waiting.house.books) == before
    assert look(waiting, LATE) == OldClaims(lapsed=2)


@pytest.mark.parametrize("step", ["make_link", "write"])
def test_a_question_that_breaks_is_not_on_record_as_asked(waiting, monkeypatch, step):
    before = dump(waiting.house.books)
    break_at(monkeypatch, f"{STEPS}.{step}")

    with pytest.raises(BrokenError):
        look(waiting, ASKED)
    assert dump(waiting.house.books) == before


def test_an_answer_that_breaks_leaves_the_link_to_be_pressed(waiting, monkeypatch):
    look(waiting, ASKED)
    link = link_in(letters(waiting, "Effie", "still_wanted")[0])
    before = dump(waiting.house.books)

    with monkeypatch.context() as patched:
        break_at(patched, "exchange.actions.sharing.claims.note")
        with pytest.raises(BrokenError):
            answer_by_link(waiting.house, link, StillWanted(), ASKED + DAY)

    assert dump(waiting.house.books) == before
    assert answer_by_link(waiting.house, link, StillWanted(), ASKED + DAY).claims == 1


def test_only_the_clock_and_the_organiser_let_claims_lapse(waiting):
    with pytest.raises(NotAllowedError):
        look_at_old_claims(waiting.actor("Effie"), ASKED)
