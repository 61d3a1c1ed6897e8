"""A link may be used once, before it runs out, and by its secret alone."""

from datetime import timedelta
from secrets import token_hex

import pytest

from exchange.records import links
from tests.app_fixtures import NOW

DAY = timedelta(days=1)


@pytest.fixture
def link(tx, circle):
    """Give a function that makes a link and gives its secret."""

    def make(who="Effie", purpose="sign_in", subject_id=None):
        token = token_hex(8)
        new = links.NewLink(token, purpose, circle[who].id, subject_id, NOW + DAY)
        links.add(tx, new, NOW)
        return token

    return make


def used_at(tx, token):
    return links.look_at(tx, token)[0].used_at


def test_a_link_is_found_by_its_secret_with_the_member_it_was_made_for(tx, link, circle):
    token = link(subject_id=17)
    link("Winnie")

    kept, member = links.look_at(tx, token)

    assert (kept.purpose, kept.subject_id, kept.made_at, kept.expires_at) == (
        "sign_in", 17, NOW, NOW + DAY,
    )  # fmt: skip
    assert member.id == kept.member_id == circle["Effie"].id
    assert token not in kept.sha256


def test_an_unknown_secret_finds_and_uses_nothing(tx, link):
    link()

    assert links.look_at(tx, "unknown") is None
    assert not links.redeem(tx, "unknown", NOW)


def test_a_link_can_be_used_once_and_uses_no_other(tx, link):
    token, other = link(), link()

    assert [links.redeem(tx, token, NOW) for _ in range(2)] == [True, False]
    assert (used_at(tx, token), used_at(tx, other)) == (NOW, None)


@pytest.mark.parametrize(("late", "works"), [(-timedelta(seconds=1), True), (timedelta(0), False)])
def test_a_link_works_until_the_instant_it_runs_out(tx, link, late, works):
    assert links.redeem(tx, link(), NOW + DAY + late) is works


def test_only_the_open_links_of_one_member_and_purpose_are_revoked(tx, link):
    meant, used = link(), link()
    of_other_purpose, of_other_member = link(purpose="invitation"), link("Winnie")
    links.redeem(tx, used, NOW)

    links.revoke(tx, links.look_at(tx, meant)[1].id, "sign_in", NOW + timedelta(hours=1))

    assert [used_at(tx, one) for one in (meant, used, of_other_purpose, of_other_member)] == [
        NOW + timedelta(hours=1), NOW, None, None,
    ]  # fmt: skip


def test_a_new_link_is_known_by_its_number(tx, circle):
    token = token_hex(8)

    number = links.add(tx, links.NewLink(token, "sign_in", circle["Effie"].id, None, NOW), NOW)

    assert links.look_at(tx, token)[0].id == number
