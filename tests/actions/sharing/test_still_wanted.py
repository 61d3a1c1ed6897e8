"""An unmet claim of an earlier season is asked about; it is never lost without its member's word."""

from datetime import timedelta

import pytest

from exchange.actions.home.chores import ChoreKind
from exchange.actions.home.page_todo import todo_page
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.claims import (
    ASKED_AGAIN_AFTER,
    NewClaim,
    claim,
    say_still_wanted,
    withdraw_claim,
)
from exchange.actions.sharing.page_claims import claims_page
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump

NEXT_SEASON = NOW + ASKED_AGAIN_AFTER + timedelta(days=1)


@pytest.fixture
def waiting(sharing):
    """Effie asked for what nobody lists; a share-out that gave nothing was confirmed."""
    sharing.variety = sharing.name()
    sharing.wish = sharing.ask("Effie", sharing.variety)
    sharing.all_of_it()
    return sharing


def asked(sharing, now):
    """Give how many claims To do asks about, and whether the claim's own row does."""
    effie = sharing.actor("Effie")
    found = [one for one in todo_page(effie, now).chores if one.kind is ChoreKind.STILL_WANTED]
    rows = [line.old for line in claims_page(effie, now).lines]
    return sum(one.number for one in found), any(rows)


def test_it_is_asked_about_in_the_next_season_and_not_before(waiting):
    assert asked(waiting, NOW + ASKED_AGAIN_AFTER) == (0, False)
    assert asked(waiting, NEXT_SEASON) == (1, True)


def test_until_it_is_answered_it_still_counts(waiting):
    assert waiting.claim_row(waiting.wish).withdrawn_at is None
    waiting.offer("Winnie", waiting.variety)

    waiting.all_of_it()

    assert waiting.standing() == {waiting.wish: 1}
    assert asked(waiting, NEXT_SEASON)[0] == 0, "what is met is not asked about"


def test_said_to_be_wanted_it_is_not_asked_about_for_a_season(waiting):
    say_still_wanted(waiting.actor("Effie"), waiting.wish, NEXT_SEASON)

    assert asked(waiting, NEXT_SEASON) == (0, False)
    assert asked(waiting, NEXT_SEASON + ASKED_AGAIN_AFTER + timedelta(days=1)) == (1, True)


def test_changing_it_says_so_too(waiting):
    claim(waiting.actor("Effie"), NewClaim(waiting.variety, 2), NEXT_SEASON)

    assert asked(waiting, NEXT_SEASON) == (0, False)


def test_taken_back_it_is_gone_by_its_members_word(waiting):
    withdraw_claim(waiting.actor("Effie"), waiting.wish, NEXT_SEASON)

    assert asked(waiting, NEXT_SEASON) == (0, False)
    say_still_wanted(waiting.actor("Effie"), waiting.wish, NEXT_SEASON)
    assert waiting.claim_row(waiting.wish).withdrawn_at == NEXT_SEASON, (
        "an old page does not undo it"
    )


def test_nobody_else_says_so(waiting):
    with pytest.raises(NotAllowedError):
        say_still_wanted(waiting.actor("Cuthbert"), waiting.wish, NEXT_SEASON)


def test_it_is_said_with_its_deed_or_not_at_all(waiting, monkeypatch):
    before = dump(waiting.house.books)
    break_at(monkeypatch, "exchange.actions.sharing.claims.note")

    with pytest.raises(BrokenError):
        say_still_wanted(waiting.actor("Effie"), waiting.wish, NEXT_SEASON)
    assert dump(waiting.house.books) == before
