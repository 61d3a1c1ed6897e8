"""Many people invited in one deed: all of them or nobody, and what is in doubt is asked about."""

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.inviting import PeopleUnclearError, PersonWanted, invite_people
from exchange.actions.people.towns import key_of
from exchange.records import LETTERS, MEMBERS, PLACES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import rows


def wanted(name, town="", email="", **more):
    return PersonWanted(name, name, town, email=email, **more)


def asked_of(circle, *people):
    before = dump(circle.house.books)
    with pytest.raises(PeopleUnclearError) as unclear:
        invite_people(circle.actor("Winnie"), people, NOW)
    assert dump(circle.house.books) == before, "nobody is invited while something is asked"
    return [one.asked for one in unclear.value.people]


def place_of(circle, member):
    return [one.town for one in rows(circle, PLACES) if one.household_id == member.household_id]


def test_who_has_mail_is_invited_and_who_has_none_is_a_member_at_once(circle):
    done = invite_people(
        circle.actor("Winnie"),
        [wanted("Morag Ross", "Oban", "morag@example.org"), wanted("Alan Pugh", "Bangor, Gwynedd")],
        NOW,
    )

    (invited,), (added,) = done.invited, done.added
    letters = [one for one in rows(circle, LETTERS) if one.member_id == invited.member.id]
    assert (invited.member.full_name, place_of(circle, invited.member)) == ("Morag Ross", ["Oban"])
    assert (added.full_name, added.email, place_of(circle, added)) == (
        "Alan Pugh",
        None,
        ["Bangor"],
    )
    assert invited.link in letters[0].body


def test_the_town_may_be_left_out(circle):
    done = invite_people(circle.actor("Winnie"), [wanted("Hob", email="hob@example.org")], NOW)

    assert place_of(circle, done.invited[0].member) == []


def test_a_misspelt_town_is_asked_about_with_the_towns_it_may_be(circle):
    people = [wanted("Hob", "Ludlwo"), wanted("Morag", "Oban")]
    with pytest.raises(PeopleUnclearError) as unclear:
        invite_people(circle.actor("Winnie"), people, NOW)
    hob, morag = unclear.value.people

    assert [one.town for one in hob.towns] == ["Ludlow"]
    assert (list(hob.asked), morag.asked) == (["town"], {})
    chosen = wanted("Hob", "Ludlwo", chosen=key_of(hob.towns[0]))
    done = invite_people(circle.actor("Winnie"), [chosen], NOW)
    assert place_of(circle, done.added[0]) == ["Ludlow"]


@pytest.mark.parametrize(
    ("people", "field"),
    [
        ([wanted("")], "name"),
        ([wanted("x" * 61)], "name"),
        ([wanted("Alan and Dilys Pugh")], "name"),
        ([wanted("Hob", "Xyzzyton")], "town"),
        ([wanted("Hob", "Newport")], "town"),
        ([wanted("Hob", email="hob at example")], "email"),
        ([wanted("Hob", email="hob@")], "email"),
    ],
)
def test_what_cannot_be_kept_is_asked_about_beside_its_field(circle, people, field):
    (asked,) = asked_of(circle, *people)

    assert list(asked) == [field]


def test_every_line_is_asked_about_at_once(circle):
    asked = asked_of(circle, wanted("", email="no"), wanted("Hob"), wanted("Odo", "Xyzzyton"))

    assert [sorted(one) for one in asked] == [["email", "name"], [], ["town"]]


def test_who_is_in_the_circle_by_that_address_is_not_invited_again(circle):
    invite_people(circle.actor("Winnie"), [wanted("Hob", email="hob@example.org")], NOW)

    (asked,) = asked_of(circle, wanted("Someone", email="HOB@example.org"))

    assert "is in the circle with this address" in asked["email"]


def test_an_address_on_two_lines_is_asked_about_on_the_second(circle):
    first, second = asked_of(
        circle, wanted("Hob", email="h@example.org"), wanted("Odo", email="H@example.org")
    )

    assert first == {}
    assert second["email"] == "Another line has this address too."


def test_somebody_of_the_same_name_is_taken_only_when_said_to_be_somebody_else(circle):
    name = circle["Effie"].full_name
    (asked,) = asked_of(circle, wanted(name.upper()))
    twice = asked_of(circle, wanted("Hob"), wanted(" hob "))

    done = invite_people(circle.actor("Winnie"), [wanted(name, somebody_else=True)], NOW)

    assert list(asked) == ["somebody_else"]
    assert [list(one) for one in twice] == [[], ["somebody_else"]]
    assert done.added[0].full_name == name


def test_nobody_named_is_refused(circle):
    with pytest.raises(RefusedError, match="at least one line"):
        invite_people(circle.actor("Winnie"), [], NOW)


def test_only_the_organiser_invites(circle):
    with pytest.raises(NotAllowedError):
        invite_people(circle.actor("Effie"), [wanted("Hob")], NOW)


def test_broken_at_the_last_person_nobody_is_invited(circle, monkeypatch):
    before = dump(circle.house.books)
    people = [wanted("Hob", email="hob@example.org"), wanted("Odo")]

    with monkeypatch.context() as patch:
        break_at(patch, "exchange.actions.people.inviting.record_added")
        with pytest.raises(BrokenError):
            invite_people(circle.actor("Winnie"), people, NOW)

    assert dump(circle.house.books) == before
    assert not [one for one in rows(circle, MEMBERS) if one.first_name == "Hob"]
