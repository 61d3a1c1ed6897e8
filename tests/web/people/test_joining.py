"""Joining by invitation: a name and a town, once, and never into somebody else's sign-in."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from secrets import token_hex

import pytest

from exchange.actions.circle.leaving import leave
from exchange.actions.circle.set_up import NewCircle, every_circle, record_circle
from exchange.actions.people.acting_for import begin_acting
from exchange.actions.people.members import NewMember, invite, invite_again
from exchange.actions.people.session import circles_of
from exchange.records import MEMBERS, PLACES, NotHereError, accounts
from tests.app_fixtures import (
    NOW,
    Visitor,
    both_databases,
    fresh_database,
    path_of,
    ring,
    site,
)


@pytest.fixture(scope="module", params=both_databases)
def installation(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("invitation")
    with fresh_database(request.param, folder) as address, site(folder, address) as made:
        yield made


def invited(circle, email=None):
    email = email or f"hob{token_hex(4)}@example.org"
    return invite(circle.actor("Winnie"), NewMember("Hob", "Tarn", email), NOW)


def joining(**changes):
    return {"first_name": "Hob", "surname": "Tarn", "town": "Ludlow, Shropshire", **changes}


def member_now(here, circle, member_id):
    with here.house.books.reading() as tx:
        member = MEMBERS.get(tx, circle.circle_id, member_id)
        return member, PLACES.all(tx, circle.circle_id, household_id=member.household_id)


def test_a_name_and_a_town_are_enough(here, circle):
    new = invited(circle)
    visitor = Visitor(here)

    looked = visitor.get(path_of(new.link))
    answer = visitor.post(path_of(new.link), {"first_name": "Hob", "town": "SY8"})
    member, (place,) = member_now(here, circle, new.member.id)

    assert looked.status_code == 200
    assert answer.status_code == 303
    assert visitor.get("/todo").status_code == 200
    assert member.account_id is not None
    assert (place.town, place.country, place.zone) == ("Ludlow", "GB", "Europe/London")


def test_looking_at_it_uses_nothing_up_and_a_second_press_is_too_late(here, circle):
    path = path_of(invited(circle).link)

    assert path.startswith("/join/")
    looked = [Visitor(here).get(path).status_code for _look in range(3)]
    first = Visitor(here).post(path, joining())
    second = Visitor(here).post(path, joining(first_name="Mallow"))

    assert looked == [200, 200, 200]
    assert (first.status_code, second.status_code) == (303, 410)


def test_of_two_at_once_one_joins(here, circle):
    new = invited(circle)
    visitors = [Visitor(here) for _each in range(6)]
    for visitor in visitors:
        visitor.token()

    with ThreadPoolExecutor(6) as many:
        answers = list(many.map(lambda one: one.post(path_of(new.link), joining()), visitors))

    in_circle = [one for one in answers if one.headers.get("Location") == "/todo"]
    # Whoever comes a moment later finds the address has a sign-in already, or the link used up.
    late = [one for one in answers if one not in in_circle]

    assert len(in_circle) == 1
    assert {one.status_code for one in late} <= {303, 410}
    assert all(one.headers.get("Location", "/sign-in").startswith("/sign-in") for one in late)
    assert len(member_now(here, circle, new.member.id)[1]) == 1


def test_it_runs_out_after_thirty_days(here, circle):
    path = path_of(invited(circle).link)

    here.clock.at = NOW + timedelta(days=30, minutes=1)

    assert Visitor(here).get(path).status_code == 410


def test_an_older_invitation_stops_working_when_a_new_one_is_written(here, circle):
    new = invited(circle)

    again = invite_again(circle.actor("Winnie"), new.member.id, NOW)

    assert Visitor(here).get(path_of(new.link)).status_code == 410
    assert Visitor(here).get(path_of(again.link)).status_code == 200


def test_of_several_towns_of_one_name_the_county_tells(here, circle):
    new = invited(circle)
    visitor = Visitor(here)

    asked = visitor.post(path_of(new.link), joining(town="Newport"))
    chosen = next(
        part.split('"')[0] for part in asked.text.split('value="') if part.startswith("52.767")
    )
    answer = visitor.post(path_of(new.link), joining(town="Newport", chosen=chosen))

    assert asked.status_code == 422
    assert "Telford and Wrekin" in asked.text or "Shropshire" in asked.text
    assert 'value="Hob"' in asked.text
    assert answer.status_code == 303
    assert member_now(here, circle, new.member.id)[1][0].town == "Newport"


def test_an_unknown_town_is_asked_about_and_nothing_typed_is_lost(here, circle):
    answer = Visitor(here).post(
        path_of(invited(circle).link), joining(first_name="Hobart", town="Xyzzyton")
    )

    assert answer.status_code == 422
    assert "nearest larger town" in answer.text
    assert 'value="Hobart"' in answer.text
    assert 'value="Xyzzyton"' in answer.text


def test_an_invitation_never_opens_a_sign_in_that_exists(here, circle):
    other = ring(here.house, f"ring{token_hex(4)}", ("Ismay",), f"tarn{token_hex(4)}")
    email = circle["Cuthbert"].email
    new = invite(other.actor("Ismay"), NewMember("Cuthbert", email=email), NOW)

    stranger = Visitor(here).get(path_of(new.link))
    pressed = Visitor(here).post(path_of(new.link), joining())

    assert stranger.status_code == 303
    assert stranger.headers["Location"].startswith("/sign-in?next=/join/")
    assert pressed.headers["Location"].startswith("/sign-in")


def test_one_sign_in_may_belong_to_two_circles_and_each_keeps_to_itself(here, circle):
    other = ring(here.house, f"ring{token_hex(4)}", ("Ismay",), f"tarn{token_hex(4)}")
    names = {one.id: one.name for one in every_circle(here.house)}
    cuthbert = circle["Cuthbert"]
    new = invite(other.actor("Ismay"), NewMember("Cuthbert", email=cuthbert.email), NOW)
    visitor = Visitor(here, cuthbert)

    joined = visitor.post(path_of(new.link), joining(first_name="Cuthbert"))
    in_other = visitor.get("/circle").text
    visitor.post("/circles", {"circle": circle.circle_id})
    in_first = visitor.get("/circle").text
    elsewhere = visitor.post("/circles", {"circle": 999_999})

    assert joined.status_code == 303
    assert names[other.circle_id] in in_other
    assert "Ismay" in in_other
    assert "Winnie" not in in_other
    assert names[circle.circle_id] in in_first
    assert "Winnie" in in_first
    assert "Ismay" not in in_first
    assert elsewhere.status_code == 404
    assert len(circles_of(here.house, cuthbert.account_id)) == 2


def test_who_has_two_circles_chooses_before_anything_else(here, circle):
    other = ring(here.house, f"ring{token_hex(4)}", ("Ismay",), f"tarn{token_hex(4)}")
    with here.house.books.writing() as tx:
        MEMBERS.change(
            tx, other.circle_id, other["Ismay"].id, account_id=circle["Cuthbert"].account_id
        )
    visitor = Visitor(here, circle["Cuthbert"])
    with visitor.client.session_transaction() as session:
        session.pop("circle_id")

    answer = visitor.get("/todo")
    shown = visitor.get("/circles")

    assert answer.headers["Location"].startswith("/circles")
    assert shown.status_code == 200
    assert visitor.post("/circles", {"circle": other.circle_id}).status_code == 303
    assert visitor.get("/todo").status_code == 200


def test_who_leaves_sees_nothing_any_more_and_may_be_invited_again(here, circle):
    cuthbert = circle["Cuthbert"]
    visitor = Visitor(here, cuthbert)
    assert visitor.get("/todo").status_code == 200

    leave(circle.actor("Cuthbert"), cuthbert.id, NOW)
    gone = visitor.get("/todo")
    new = invite(circle.actor("Winnie"), NewMember("Cuthbert", email=cuthbert.email), NOW)
    back = visitor.post(path_of(new.link), joining(first_name="Cuthbert"))

    assert gone.headers["Location"].startswith("/circles")
    assert back.status_code == 303
    with here.house.books.reading() as tx:
        (again,) = accounts.memberships(tx, cuthbert.account_id)
    assert again.id == new.member.id


def test_a_new_circle_has_nobody_in_it(here, circle):
    with here.house.books.writing() as tx:
        circle_id = record_circle(tx, NewCircle(f"ring{token_hex(4)}"), NOW)

    with here.house.books.reading() as tx:
        assert MEMBERS.all(tx, circle_id) == ()


def test_acting_for_somebody_of_another_circle_is_refused(here, circle):
    other = ring(here.house, f"ring{token_hex(4)}", ("Ismay",), f"tarn{token_hex(4)}")

    with pytest.raises(NotHereError):
        begin_acting(circle.actor("Winnie"), other["Ismay"].id, NOW)


def test_who_joins_signed_in_keeps_the_address_of_the_sign_in(here, circle):
    other = ring(here.house, f"ring{token_hex(4)}", ("Ismay",), f"tarn{token_hex(4)}")
    cuthbert = circle["Cuthbert"]
    elsewhere = f"ismay.{token_hex(4)}@example.org"
    new = invite(other.actor("Ismay"), NewMember("Cuthbert", email=elsewhere), NOW)

    joined = Visitor(here, cuthbert).post(path_of(new.link), joining(first_name="Cuthbert"))

    with here.house.books.reading() as tx:
        addresses = {one.email for one in accounts.memberships(tx, cuthbert.account_id)}
    assert joined.status_code == 303
    assert addresses == {cuthbert.email}
