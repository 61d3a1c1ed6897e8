"""What an act on people writes stands or falls together: broken in the middle, it leaves nothing."""

import pytest

from exchange.actions.circle.leaving import leave
from exchange.actions.kernel.links import LinkGoneError
from exchange.actions.people.away import NewAway, go_away
from exchange.actions.people.households import AddressTerms, set_address, share_household
from exchange.actions.people.joining import Joining, join
from exchange.actions.people.members import (
    NewMember,
    add_member,
    invite,
    invite_again,
    make_helper,
)
from exchange.actions.people.own_account import ask_for_address, take_address
from exchange.actions.people.places import PlaceTerms, add_place
from exchange.actions.people.sign_in import hand_sign_in, sign_in_with, way_in
from exchange.actions.people.towns import TownWanted, find_town
from exchange.records import LETTERS
from tests.app_fixtures import NOW, a_day, a_house, ring, token_of
from tests.builders.breaking import BrokenError, break_at, dump

LUDLOW = find_town(TownWanted("Ludlow, Shropshire"))


@pytest.fixture
def house(tmp_path):
    with a_house(tmp_path) as made:
        yield made


@pytest.fixture
def circle(house):
    return ring(house, members=("Winnie", "Cuthbert", "Effie"))


def broken(monkeypatch, circle, step, act):
    """Break the act at the step, see that nothing is left of it, and mend the step."""
    before = dump(circle.house.books)
    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.{step}")
        with pytest.raises(BrokenError):
            act()
    assert dump(circle.house.books) == before


HOB = NewMember("Hob", "Tarn", "hob@example.org")
ACTS = {
    "invite": lambda circle: invite(circle.actor("Winnie"), HOB, NOW),
    "add a member": lambda circle: add_member(
        circle.actor("Winnie"), NewMember("Odo", town=LUDLOW), NOW
    ),
    "let somebody new in": lambda circle: way_in(circle.house, "", HOB.email, "Hob", NOW),
    "make a link": lambda circle: hand_sign_in(circle.actor("Winnie"), circle["Effie"].id, NOW),
    "make a helper": lambda circle: make_helper(
        circle.actor("Winnie"), circle["Effie"].id, "names", NOW
    ),
    "leave": lambda circle: leave(circle.actor("Effie"), circle["Effie"].id, NOW),
    "share a household": lambda circle: share_household(
        circle.actor("Winnie"), circle["Effie"].id, circle["Cuthbert"].household_id, NOW
    ),
    "another address": lambda circle: ask_for_address(
        circle.actor("Effie"), "effie@example.com", NOW
    ),
    "an address of the house": lambda circle: set_address(
        circle.actor("Effie"), AddressTerms("1 Mill Lane"), NOW
    ),
    "days away": lambda circle: go_away(circle.actor("Effie"), NewAway(a_day(6), a_day(9)), NOW),
    "a place": lambda circle: add_place(
        circle.actor("Effie"), LUDLOW, PlaceTerms("allotment"), NOW
    ),
}


@pytest.mark.parametrize(
    ("act", "step"),
    [
        ("invite", "people.members.make_link"),
        ("invite", "people.members.write"),
        ("invite", "people.members.note"),
        ("add a member", "people.members.add_place_of"),
        ("add a member", "people.members.note"),
        ("let somebody new in", "people.members.write"),
        ("let somebody new in", "people.members.note"),
        ("make a link", "people.sign_in.note"),
        ("make a helper", "people.members.note"),
        ("leave", "circle.leaving.end_dealings"),
        ("leave", "circle.leaving.note"),
        ("share a household", "people.households._move_all"),
        ("share a household", "people.households.today_in"),
        ("share a household", "people.households.note"),
        ("another address", "people.own_account.make_link"),
        ("another address", "people.own_account.write_to"),
        ("an address of the house", "people.households.note"),
        ("days away", "people.away.note"),
        ("a place", "people.places.note"),
    ],
)
def test_broken_in_the_middle_it_leaves_nothing(monkeypatch, circle, act, step):
    broken(monkeypatch, circle, step, lambda: ACTS[act](circle))

    ACTS[act](circle)


@pytest.mark.parametrize("step", ["make_link", "write", "note"])
def test_an_invitation_that_is_not_written_anew_leaves_the_older_one_working(
    monkeypatch, circle, step
):
    invited = invite(circle.actor("Winnie"), HOB, NOW)

    broken(
        monkeypatch,
        circle,
        f"people.members.{step}",
        lambda: invite_again(circle.actor("Winnie"), invited.member.id, NOW),
    )

    assert join(circle.house, token_of(invited.link), Joining("Hob", LUDLOW), NOW)


@pytest.mark.parametrize("step", ["_account", "add_place_of", "settle", "note"])
def test_joining_that_breaks_leaves_the_invitation_to_be_used_once(monkeypatch, circle, step):
    token = token_of(invite(circle.actor("Winnie"), HOB, NOW).link)

    broken(
        monkeypatch,
        circle,
        f"people.joining.{step}",
        lambda: join(circle.house, token, Joining("Hob", LUDLOW), NOW),
    )

    assert join(circle.house, token, Joining("Hob", LUDLOW), NOW).circle_id == circle.circle_id
    with pytest.raises(LinkGoneError):
        join(circle.house, token, Joining("Hob", LUDLOW), NOW)


@pytest.mark.parametrize("step", ["_reader", "write_to", "note"])
def test_taking_an_address_that_breaks_leaves_the_link_to_be_used_once(monkeypatch, circle, step):
    ask_for_address(circle.actor("Effie"), "effie@example.com", NOW)
    with circle.house.books.reading() as tx:
        (letter,) = LETTERS.all(tx, circle.circle_id, kind="new_address")
    link = next(word for word in letter.body.split() if "/new-address/" in word)

    broken(
        monkeypatch,
        circle,
        f"people.own_account.{step}",
        lambda: take_address(circle.house, token_of(link), NOW),
    )

    entering = take_address(circle.house, token_of(link), NOW)
    assert entering.account_id == circle["Effie"].account_id
    with pytest.raises(LinkGoneError):
        take_address(circle.house, token_of(link), NOW)


def test_a_sign_in_link_works_once(circle):
    token = token_of(hand_sign_in(circle.actor("Winnie"), circle["Effie"].id, NOW))

    assert sign_in_with(circle.house, token, NOW).account_id == circle["Effie"].account_id
    with pytest.raises(LinkGoneError):
        sign_in_with(circle.house, token, NOW)
