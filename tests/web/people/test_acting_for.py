"""The organiser acting for a member: every act is written down and shown to that member."""

from secrets import token_hex

import pytest

from exchange.records import AWAY, DEEDS, MEMBERS
from tests.app_fixtures import Visitor, ring


@pytest.fixture
def circle(here):
    surname = f"pellow{token_hex(4)}"
    return ring(here.house, surname, ("Winnie", "Cuthbert", "Odo"), surname)


DAYS = {"first": "2027-05-03", "last": "2027-05-09", "cannot_receive": "y", "cannot_post": "y"}


def deeds(here, circle):
    with here.house.books.reading() as tx:
        return DEEDS.all(tx, circle.circle_id)


def test_what_is_entered_for_a_member_is_theirs_and_written_down(here, circle):
    winnie = Visitor(here, circle["Winnie"])

    winnie.post(f"/act-for/{circle['Odo'].id}")
    banner = winnie.get("/todo").text
    winnie.post("/garden/away", DAYS)
    last = deeds(here, circle)[-1]
    with here.house.books.reading() as tx:
        (away,) = AWAY.all(tx, circle.circle_id)

    assert "You are acting for" in banner
    assert circle["Odo"].full_name in banner
    assert away.household_id == circle["Odo"].household_id
    assert (last.actor_id, last.for_member_id) == (circle["Winnie"].id, circle["Odo"].id)
    assert last.act == "told of days away"


def test_the_member_sees_what_was_entered_for_them_and_by_whom(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Cuthbert'].id}")
    winnie.post("/garden/away", DAYS)

    page = Visitor(here, circle["Cuthbert"]).get("/who-did-what").text

    entered = f"entered by {circle['Winnie'].full_name} for {circle['Cuthbert'].full_name}"
    assert entered in page
    assert "told of days away" in page
    assert "began to act for" in page


def test_another_member_does_not_see_it(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Odo'].id}")
    winnie.post("/garden/away", DAYS)

    page = Visitor(here, circle["Cuthbert"]).get("/who-did-what").text

    assert "told of days away" not in page


def test_every_act_for_a_member_is_written_down(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Odo'].id}")
    before = len(deeds(here, circle))
    acts = [
        ("/garden/away", DAYS),
        ("/garden/posting", {"posting_weekdays": ["0", "1"], "parcels_a_day": "2"}),
        ("/garden/address", {"address": "1 Long Row"}),
        ("/garden/contact", {"first_name": "Odo", "telephone": "01632 960001"}),
        ("/garden/places/new", {"name": "plot", "town": "SY8", "lie": "open", "home_by": "18"}),
    ]

    answers = [winnie.post(path, data).status_code for path, data in acts]
    written = deeds(here, circle)[before:]

    assert answers == [303] * len(acts)
    assert len(written) == len(acts)
    assert {one.for_member_id for one in written} == {circle["Odo"].id}


def test_stopping_makes_the_organiser_act_for_herself_again(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Odo'].id}")

    winnie.post("/act-for/stop")
    winnie.post("/garden/away", DAYS)

    with here.house.books.reading() as tx:
        (away,) = AWAY.all(tx, circle.circle_id)
    assert away.household_id == circle["Winnie"].household_id
    assert deeds(here, circle)[-1].for_member_id is None


def test_a_member_cannot_act_for_another(here, circle):
    visitor = Visitor(here, circle["Cuthbert"])

    refused = visitor.post(f"/act-for/{circle['Odo'].id}")
    with visitor.client.session_transaction() as session:
        session["acting_for"] = circle["Odo"].id
    visitor.post("/garden/away", DAYS)

    assert refused.status_code == 403
    with here.house.books.reading() as tx:
        (away,) = AWAY.all(tx, circle.circle_id)
    assert away.household_id == circle["Cuthbert"].household_id


def test_who_is_no_longer_organiser_no_longer_acts_for_others(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Odo'].id}")
    with here.house.books.writing() as tx:
        MEMBERS.change(tx, circle.circle_id, circle["Winnie"].id, organiser=False)

    assert "You are acting for" not in winnie.get("/todo").text
