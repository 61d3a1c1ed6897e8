"""Leaving and erasing on pages: what only they hold is asked beside its tick, erasing is asked once."""

import pytest

from tests.app_fixtures import Visitor
from tests.web.walk import furnish


@pytest.fixture
def furnished(circle):
    furnish(circle)


@pytest.mark.usefixtures("furnished")
def test_what_only_they_hold_stands_on_the_page_and_has_to_be_ticked(effie):
    page = effie.get("/people/leave").text
    refused = effie.post("/people/leave", {})

    assert "What only Effie holds" in page
    assert "Ash over Lowmoor" in page
    assert refused.status_code == 422
    assert "Nobody else here is known to hold ‘Ash over Lowmoor’" in refused.text


@pytest.mark.usefixtures("furnished")
def test_ticked_they_leave_and_are_signed_out(effie):
    answer = effie.post("/people/leave", {"known": "y"})

    assert answer.status_code == 303
    assert effie.get("/garden").status_code == 303


def test_the_organiser_lets_somebody_go_and_erases_them(winnie, circle):
    effie = circle["Effie"]
    assert f'href="/people/{effie.id}/leave"' in winnie.get(f"/people/{effie.id}").text
    winnie.post(f"/people/{effie.id}/leave", {})

    former = winnie.get("/people/former").text
    asked = winnie.get(f"/people/{effie.id}/erase").text
    done = winnie.post(f"/people/{effie.id}/erase", {}, follow_redirects=True).text

    assert effie.full_name in former
    assert f"Erase {effie.full_name}?" in asked
    assert "It cannot be undone." in asked
    assert effie.full_name not in done


def test_who_is_still_here_is_not_erased(winnie, circle):
    answer = winnie.post(f"/people/{circle['Effie'].id}/erase", {}, follow_redirects=True)

    assert "is still in the circle." in answer.text


def test_leaving_with_erasing_leaves_no_name(winnie, effie, circle):
    effie.post("/people/leave", {"known": "y", "erase": "y"})

    assert circle["Effie"].full_name not in winnie.get("/people/former").text


def test_the_circles_page_leads_to_the_former(here, circle):
    assert 'href="/people/former"' in Visitor(here, circle["Winnie"]).get("/circle").text
