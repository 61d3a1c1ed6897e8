"""A claim met in part: what it still lacks is asked about, lapses, is taken back and revived by itself."""

from datetime import date, timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError, clock_actor
from exchange.actions.sharing.claims import (
    ASKED_AGAIN_AFTER,
    ClaimMetError,
    put_claim_back,
    say_still_wanted,
    withdraw_claim,
    withdraw_within,
)
from exchange.actions.sharing.old_claims import LAPSES_AFTER, OldClaims, look_at_old_claims
from exchange.actions.sharing.page_claims import claims_page
from exchange.domain.growing.batch import Material
from exchange.records import CLAIMS, LETTERS
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump

DAY = timedelta(days=1)
ASKED = NOW + ASKED_AGAIN_AFTER + DAY
LATE = ASKED + LAPSES_AFTER
SAID = {
    "choice": 2,
    "materials": frozenset({Material.ROOTED, Material.CLUMP}),
    "no_use_after": date(2029, 6, 1),
}


@pytest.fixture
def part(sharing):
    """Effie asked for three and was given one."""
    variety, sharing.other = sharing.name(), sharing.name("Tin Kettle")
    sharing.offer("Winnie", variety)
    sharing.wish = sharing.ask("Effie", variety, asked=3, alternatives=(sharing.other,), **SAID)
    sharing.all_of_it()
    return sharing


def look(sharing, now):
    return look_at_old_claims(clock_actor(sharing.house, sharing.circle_id), now)


def letter(sharing, kind):
    with sharing.house.books.reading() as tx:
        (one,) = LETTERS.all(
            tx, sharing.circle_id, member_id=sharing.ring["Effie"].id, kind=kind
        )  # fmt: skip
    return one.body.replace("\xa0", " ")


def claims(sharing):
    with sharing.house.books.reading() as tx:
        return CLAIMS.all(tx, sharing.circle_id)


def test_what_it_lacks_is_asked_about_in_the_next_season(part):
    assert look(part, ASKED) == OldClaims(asked=1)

    assert "2 of Dahlia ‘Chapel Lantern’, asked for on" in letter(part, "still_wanted")
    (line,) = claims_page(part.actor("Effie"), ASKED).lines
    assert (line.old, line.given, line.lapses_after) == (True, 1, LATE.date())


def test_not_answered_only_what_it_lacks_lapses_and_is_revived_by_one_press(part):
    effie = part.actor("Effie")
    look(part, ASKED)

    assert look(part, LATE) == OldClaims(lapsed=1)

    assert "2 of Dahlia ‘Chapel Lantern’" in letter(part, "claim_lapsed")
    page = claims_page(effie, LATE)
    assert [(one.given, one.claim.asked, one.old) for one in page.lines] == [(1, 1, False)]
    assert [one.claim.asked for one in page.lapsed] == [2]
    assert look(part, LATE + DAY) == OldClaims()
    put_claim_back(effie, page.lapsed[0].claim.id, LATE + DAY)
    assert [one.claim.asked for one in claims_page(effie, LATE + DAY).lines] == [1, 2]


def test_said_to_be_wanted_what_it_lacks_stands(part):
    look(part, ASKED)
    say_still_wanted(part.actor("Effie"), part.wish, ASKED + DAY)

    assert look(part, LATE) == OldClaims()
    assert [one.asked for one in claims(part)] == [3]


def test_the_rest_is_taken_back_as_it_was_asked_and_put_back(part):
    effie = part.actor("Effie")

    rest = withdraw_claim(effie, part.wish, NOW + DAY)

    kept, ended = claims(part)
    assert (kept.id, kept.asked, kept.withdrawn_at) == (part.wish, 1, None)
    assert (ended.id, ended.asked, ended.withdrawn_at) == (rest, 2, NOW + DAY)
    for name in ("household_id", "place_id", "variety_id", "made_at", "entered_by", *SAID):
        assert getattr(ended, name) == getattr(kept, name), name
    assert ended.alternatives == (part.other,)
    with pytest.raises(ClaimMetError):
        withdraw_claim(effie, part.wish, NOW + DAY)
    put_claim_back(effie, rest, NOW + DAY)
    assert [one.withdrawn_at for one in claims(part)] == [None, None]


def test_nobody_else_takes_the_rest_back_or_puts_it_back(part):
    with pytest.raises(NotAllowedError):
        withdraw_claim(part.actor("Cuthbert"), part.wish, NOW)
    rest = withdraw_claim(part.actor("Effie"), part.wish, NOW)
    with pytest.raises(NotAllowedError):
        put_claim_back(part.actor("Cuthbert"), rest, NOW)


def test_taken_back_twice_it_is_taken_back_and_what_was_given_is_not_put_back(part):
    effie = part.actor("Effie")
    rest = withdraw_claim(effie, part.wish, NOW)

    assert withdraw_claim(effie, rest, NOW + DAY) == rest
    with pytest.raises(ClaimMetError):
        put_claim_back(effie, part.wish, NOW + DAY)
    with part.house.books.writing() as tx, pytest.raises(ClaimMetError):
        withdraw_within(tx, effie, part.wish, NOW + DAY)


def test_taken_back_within_an_act_it_is_taken_back(part):
    other = part.ask("Effie", part.other)
    with part.house.books.writing() as tx:
        withdraw_within(tx, part.actor("Effie"), other, NOW + DAY)

    assert part.claim_row(other).withdrawn_at == NOW + DAY


@pytest.mark.parametrize("step", ["end_rest", "note"])
def test_what_breaks_in_the_middle_keeps_nothing(part, monkeypatch, step):
    before = dump(part.house.books)
    break_at(monkeypatch, f"exchange.actions.sharing.claims.{step}")

    with pytest.raises(BrokenError):
        withdraw_claim(part.actor("Effie"), part.wish, NOW)

    assert dump(part.house.books) == before
