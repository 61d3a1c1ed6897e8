"""People: names, households, organisers, leaving, and whom a sign-in link may be made for."""

import pytest

from exchange.actions.circle.leaving import leave
from exchange.actions.circle.set_up import CircleRefusedError, NewCircle, record_circle
from exchange.actions.kernel.actor import NotAllowedError, clock_actor
from exchange.actions.people.households import HasDealingsError, share_household
from exchange.actions.people.members import (
    AddressRefusedError,
    LastOrganiserError,
    MemberNameRefusedError,
    NewMember,
    add_member,
    invite,
    make_helper,
    make_organiser,
)
from exchange.actions.people.page_members import neighbours, roster
from exchange.actions.people.sign_in import NoWayInError, hand_sign_in, mail_sign_in
from exchange.records import HOUSEHOLDS, LETTERS, MEMBERS, NotHereError
from tests.app_fixtures import NOW, a_house, ring


@pytest.fixture
def house(tmp_path):
    with a_house(tmp_path) as made:
        yield made


@pytest.fixture
def circle(house):
    return ring(house, members=("Winnie", "Cuthbert", "Effie"))


def member(house, circle, member_id):
    with house.books.reading() as tx:
        return MEMBERS.get(tx, circle.circle_id, member_id)


def test_a_member_has_a_household_of_their_own_unless_they_share_one(house, circle):
    winnie = circle.actor("Winnie")
    alone = member(house, circle, add_member(winnie, NewMember("Odo", "Pellow"), NOW))
    shared = member(
        house,
        circle,
        add_member(winnie, NewMember("Tamsin", household_id=alone.household_id), NOW),
    )

    with house.books.reading() as tx:
        names = [one.name for one in HOUSEHOLDS.all(tx, circle.circle_id)]

    assert shared.household_id == alone.household_id
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("new", "refused"),
    [
        (NewMember("  "), MemberNameRefusedError),
        (NewMember("x" * 61), MemberNameRefusedError),
        (NewMember("Hob", email="hob at example"), AddressRefusedError),
        (NewMember("Hob", email="EFFIE.pellow@example.org"), AddressRefusedError),
    ],
)
def test_what_cannot_be_kept_is_refused_and_nobody_is_added(house, circle, new, refused):
    with house.books.reading() as tx:
        before = MEMBERS.all(tx, circle.circle_id)

    with pytest.raises(refused):
        invite(circle.actor("Winnie"), new, NOW)

    with house.books.reading() as tx:
        assert MEMBERS.all(tx, circle.circle_id) == before


def test_a_household_of_another_circle_cannot_be_shared(house, circle):
    other = ring(house, "The Overfell Ring", ("Ismay",), "Tarn")
    foreign = other["Ismay"].household_id

    with pytest.raises(MemberNameRefusedError, match="Choose one of these"):
        add_member(circle.actor("Winnie"), NewMember("Odo", household_id=foreign), NOW)
    with pytest.raises(NotHereError):
        share_household(circle.actor("Winnie"), circle["Effie"].id, foreign, NOW)


def test_only_the_organiser_looks_after_people(circle):
    effie, target = circle.actor("Effie"), circle["Cuthbert"].id
    acts = [
        lambda: invite(effie, NewMember("Hob"), NOW),
        lambda: add_member(effie, NewMember("Hob"), NOW),
        lambda: make_organiser(effie, circle["Effie"].id, True, NOW),
        lambda: make_helper(effie, target, "names", NOW),
        lambda: leave(effie, target, NOW),
        lambda: share_household(effie, target, circle["Effie"].household_id, NOW),
        lambda: hand_sign_in(effie, target, NOW),
        lambda: roster(effie),
    ]

    for act in acts:
        with pytest.raises(NotAllowedError):
            act()


def test_a_circle_always_keeps_an_organiser(house, circle):
    winnie = circle.actor("Winnie")

    with pytest.raises(LastOrganiserError):
        make_organiser(winnie, circle["Winnie"].id, False, NOW)
    with pytest.raises(LastOrganiserError):
        leave(winnie, circle["Winnie"].id, NOW)
    make_organiser(winnie, circle["Effie"].id, True, NOW)
    leave(winnie, circle["Winnie"].id, NOW)

    assert member(house, circle, circle["Winnie"].id).left_at == NOW
    assert member(house, circle, circle["Effie"].id).organiser


def test_a_member_leaves_by_themselves_and_the_household_is_closed(house, circle):
    leave(circle.actor("Effie"), circle["Effie"].id, NOW)

    gone = member(house, circle, circle["Effie"].id)
    with house.books.reading() as tx:
        household = HOUSEHOLDS.get(tx, circle.circle_id, gone.household_id)
    assert (gone.left_at, gone.account_id) == (NOW, None)
    assert household.left_on == NOW.date()


def test_a_household_stays_open_while_somebody_is_in_it(house, circle):
    winnie = circle.actor("Winnie")
    home = circle["Effie"].household_id
    add_member(winnie, NewMember("Tamsin", household_id=home), NOW)

    leave(circle.actor("Effie"), circle["Effie"].id, NOW)

    with house.books.reading() as tx:
        assert HOUSEHOLDS.get(tx, circle.circle_id, home).left_on is None


def test_a_helper_helps_with_something_known(house, circle):
    winnie = circle.actor("Winnie")

    make_helper(winnie, circle["Effie"].id, "postage", NOW)
    with pytest.raises(MemberNameRefusedError):
        make_helper(winnie, circle["Effie"].id, "everything", NOW)

    assert member(house, circle, circle["Effie"].id).helper == "postage"


def test_who_has_spares_or_claims_of_their_own_does_not_move_in_silently(circle):
    from exchange.actions.growing.varieties import name_variety
    from exchange.actions.sharing.spares import NewSpare, list_spare
    from exchange.domain.growing.batch import Material, Raised
    from exchange.domain.growing.variety import Species
    from tests.app_fixtures import a_day

    effie = circle.actor("Effie")
    variety = name_variety(effie, "Ferry Light", Species.DAHLIA, NOW)
    spare = NewSpare(variety.id, Material.ROOTED, Raised.COOL, 2, a_day(12), a_day(30))
    list_spare(effie, spare, NOW)

    with pytest.raises(HasDealingsError):
        share_household(
            circle.actor("Winnie"), circle["Effie"].id, circle["Winnie"].household_id, NOW
        )


def test_members_see_first_names_and_counties_only(circle):
    shown = neighbours(circle.actor("Effie"))

    assert {(one.first_name, one.county) for one in shown} == {
        ("Winnie", "Shropshire"),
        ("Cuthbert", "Cornwall"),
        ("Effie", "Highland"),
    }
    assert not any("Pellow" in str(one) for one in shown)


def test_an_organiser_makes_no_way_into_another_circle(house, circle):
    winnie = circle.actor("Winnie")
    fine = hand_sign_in(winnie, circle["Effie"].id, NOW)
    other = ring(house, "The Overfell Ring", ("Ismay",), "Tarn")
    with house.books.writing() as tx:
        MEMBERS.change(
            tx, other.circle_id, other["Ismay"].id, account_id=circle["Effie"].account_id
        )

    with pytest.raises(NoWayInError):
        hand_sign_in(winnie, circle["Effie"].id, NOW)
    assert "/sign-in-by-mail/" in fine


def test_who_has_no_account_is_invited_instead(circle):
    winnie = circle.actor("Winnie")
    odo = add_member(winnie, NewMember("Odo"), NOW)

    with pytest.raises(NoWayInError, match="invite them"):
        hand_sign_in(winnie, odo, NOW)


def test_a_sign_in_link_is_mailed_to_known_addresses_only(house, circle):
    mail_sign_in(house, "nobody@example.org", NOW)
    mail_sign_in(house, " Effie.Pellow@EXAMPLE.org ", NOW)

    with house.books.reading() as tx:
        written = LETTERS.all(tx, circle.circle_id, kind="sign_in")
    assert [one.member_id for one in written] == [circle["Effie"].id]


def test_the_invitation_names_who_invites(house, circle):
    invited = invite(circle.actor("Winnie"), NewMember("Hob", email="hob@example.org"), NOW)
    by_itself = invite(clock_actor(house, circle.circle_id), NewMember("Mallow"), NOW)

    with house.books.reading() as tx:
        first, second = (
            LETTERS.find(tx, circle.circle_id, member_id=one.member.id)
            for one in (invited, by_itself)
        )
    assert "Winnie would like you" in first.body
    assert invited.link in first.body
    assert "The Lowmoor Circle would like you" in second.body


@pytest.mark.parametrize(
    "new",
    [
        NewCircle("  "),
        NewCircle("The Lowmoor Circle"),
        NewCircle("Another", zone="Europe/Ludlow"),
        NewCircle("Another", country="Britain"),
        NewCircle("Another", about_how_many=0),
    ],
)
def test_a_circle_that_cannot_be_is_refused(house, circle, new):
    assert circle.circle_id
    with house.books.writing() as tx, pytest.raises((CircleRefusedError, MemberNameRefusedError)):
        record_circle(tx, new, NOW)
