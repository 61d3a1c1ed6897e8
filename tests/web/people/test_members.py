"""What the organiser says of a member, said by two at once; whom a new member may live with."""

import pytest

from exchange.records import MEMBERS
from tests.app_fixtures import Visitor
from tests.builders.edits import edited_by_two, version_in
from tests.builders.offers import row, rows


@pytest.fixture
def two(here, circle):
    return Visitor(here, circle["Winnie"]), Visitor(here, circle["Winnie"])


def effie(circle):
    return row(circle, MEMBERS, circle["Effie"].id)


def page_of(circle):
    return f"/people/{circle['Effie'].id}"


def test_a_helper_named_by_two_is_shown_with_both_and_kept_when_pressed_again(circle, two):
    page = page_of(circle)
    second = edited_by_two(two, page, {"helper": "names"}, {"helper": "postage"}, f"{page}/helper")

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "is now: names of varieties." in second.text
    assert effie(circle).helper == "names"

    version = version_in(second, f"{page}/helper")
    third = two[0].post(f"{page}/helper", {"helper": "postage", "version": version})

    assert third.status_code == 303
    assert effie(circle).helper == "postage"


def test_a_household_chosen_by_two_is_shown_with_both_and_kept_when_pressed_again(circle, two):
    page = page_of(circle)
    winnies, cuthberts = (circle[one].household_id for one in ("Winnie", "Cuthbert"))
    second = edited_by_two(
        two,
        page,
        {"household_id": winnies},
        {"household_id": cuthberts},
        f"{page}/household",
    )

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "This was changed meanwhile and is now" in second.text
    assert effie(circle).household_id == winnies

    version = version_in(second, f"{page}/household")
    third = two[0].post(f"{page}/household", {"household_id": cuthberts, "version": version})

    assert third.status_code == 303
    assert effie(circle).household_id == cuthberts


def test_the_two_forms_of_a_member_do_not_stand_in_each_others_way(circle, two):
    page, (one, other) = page_of(circle), two
    opened = version_in(one.get(page), f"{page}/household")
    other.post(f"{page}/helper", {"helper": "names"})

    to = circle["Winnie"].household_id
    kept = one.post(f"{page}/household", {"household_id": to, "version": opened})

    assert kept.status_code == 303
    assert effie(circle).household_id == to


def test_addresses_stay_shut_to_who_signed_in_long_ago(here, circle, two):
    one, _other = two
    one.post("/my-password", {"new_password": "x" * 12, "new_password_confirm": "x" * 12})
    with one.client.session_transaction() as session:
        session["fs_paa"] = 0

    page = page_of(circle)
    answer = one.post(f"{page}/helper", {"helper": "names", "version": "another"})

    assert answer.status_code == 303
    assert effie(circle).helper == ""
    assert "changed by somebody else" in one.get(answer.location).text


def test_a_household_nobody_lives_in_is_asked_about_beside_its_field(circle, two):
    told = {"first_name": "Odo", "household": "999999"}

    answer = two[0].post("/people/add", told)

    assert answer.status_code == 422
    assert "Choose one of these." in answer.text
    assert 'value="Odo"' in answer.text
    assert not [one for one in rows(circle, MEMBERS) if one.first_name == "Odo"]
