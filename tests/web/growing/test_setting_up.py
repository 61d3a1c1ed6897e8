"""The page on which the organiser sets a member up, and the one on which somebody new is added."""

import pytest

from exchange.records import HOUSEHOLDS, MEMBERS, PLACES, SHELTERS
from tests.app_fixtures import Visitor
from tests.builders.edits import edited_by_two, version_in
from tests.builders.offers import row, rows


@pytest.fixture
def page(circle):
    return f"/people/{circle['Effie'].id}/set-up"


def told(**changes):
    usual = {"town": "Oban", "address": "1 Pier Road", "shelters": ["cold", "indoors"]}
    return {**usual, "telephone": "01632 960111", **changes}


def test_one_press_keeps_town_address_telephone_and_shelters(circle, winnie, page):
    answer = winnie.post(page, {**told(), "version": version_in(winnie.get(page), page)})

    effie = row(circle, MEMBERS, circle["Effie"].id)
    places = [one for one in rows(circle, PLACES) if one.household_id == effie.household_id]
    kinds = {one.kind.value for one in rows(circle, SHELTERS) if one.place_id == places[0].id}
    assert answer.status_code == 303
    assert [one.town for one in places] == ["Oban"]
    assert row(circle, HOUSEHOLDS, effie.household_id).address == "1 Pier Road"
    assert (effie.telephone, kinds) == ("01632 960111", {"cold", "indoors"})


def test_the_page_shows_what_is_known(winnie, page):
    winnie.post(page, told())

    shown = winnie.get(page).text

    assert 'value="Oban"' in shown
    assert "1 Pier Road" in shown
    assert shown.count("checked") == 2


def test_keeping_leads_on_to_the_next_who_is_not_set_up(circle, winnie, page):
    other = circle["Cuthbert"].id
    answer = winnie.post(page, told(onward=str(other)))

    assert answer.location == f"/people/{other}/set-up"


def test_a_misspelt_town_offers_its_neighbours_in_spelling_and_keeps_the_rest(winnie, page):
    answer = winnie.post(page, told(town="Inverenss"))

    assert answer.status_code == 422
    assert "Inverness, Highland" in answer.text
    assert "1 Pier Road" in answer.text


def test_two_who_set_up_the_same_member_are_shown_both(here, circle, page):
    two = Visitor(here, circle["Winnie"]), Visitor(here, circle["Winnie"])

    second = edited_by_two(two, page, told(), told(address="2 Loch Road"))

    assert second.status_code == 422
    assert "This was changed meanwhile and is now: “1 Pier Road”." in second.text


def test_addresses_stay_shut_to_who_signed_in_long_ago(circle, winnie, page):
    winnie.post(page, told())
    winnie.post("/my-password", {"new_password": "x" * 12, "new_password_confirm": "x" * 12})
    with winnie.client.session_transaction() as session:
        session["fs_paa"] = 0

    looked = winnie.get(page)
    pressed = winnie.post(page, {**told(address="2 Loch Road"), "version": "another"})

    assert (looked.status_code, pressed.status_code) == (303, 303)
    assert "1 Pier Road" not in looked.text + pressed.text


def test_somebody_new_is_added_with_all_of_it_on_one_page(circle, winnie):
    answer = winnie.post("/people/add", {"first_name": "Odo", "household": "0", **told()})

    odo = next(one for one in rows(circle, MEMBERS) if one.first_name == "Odo")
    assert answer.status_code == 303
    assert row(circle, HOUSEHOLDS, odo.household_id).address == "1 Pier Road"


def test_the_circle_offers_to_set_up_who_is_not_yet(circle, winnie, page):
    assert f'href="{page}"' in winnie.get("/circle").text
    winnie.post(page, told())

    assert f'href="{page}"' not in winnie.get("/circle").text
