"""The ring list on its page, and the leave asked for it."""

import re


def test_leave_is_asked_with_the_telephone_and_shows_on_the_list(effie, winnie, circle):
    form = effie.get("/garden/contact").text
    answers = {
        "first_name": "Effie",
        "surname": circle["Effie"].surname,
        "email": circle["Effie"].email,
    }
    answers["version"] = re.search(r'name="version"[^>]*value="([^"]*)"', form)[1]
    kept = effie.post(
        "/garden/contact", {**answers, "telephone": "01632 960111", "on_ring_list": "y"}
    )

    assert kept.status_code == 303, kept.text
    assert "On the circle’s ring list, with my number" in form
    page = winnie.get("/circle/ring-list").text
    assert "01632 960111" in page
    assert "data-copy" in page


def test_an_empty_list_says_how_to_be_on_it(effie):
    assert "Nobody is on it yet" in effie.get("/circle/ring-list").text


def test_both_kinds_of_the_circles_page_lead_there(winnie, effie):
    assert 'href="/circle/ring-list"' in winnie.get("/circle").text
    assert 'href="/circle/ring-list"' in effie.get("/circle").text
