"""One-button answers: looked at as often as one likes, pressed once, without signing in."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from exchange.actions.kernel.links import Purpose
from exchange.actions.kernel.refusals import RefusedError
from exchange.web.home.answers import QUESTIONS, Question
from tests.app_fixtures import Visitor, link_for


@pytest.fixture
def said(monkeypatch):
    """Put a trial question in the place of one; give what was answered."""
    heard = []

    def act(actor, subject_id, fields, now):
        if fields.get("how") == "badly":
            raise RefusedError("Say in a few words what was wrong.", "what")
        heard.append((actor.member_id, subject_id, fields.get("how"), now))
        return "Noted, with thanks."

    trial = Question(
        "answers/question.html", lambda _actor, subject_id, _fields, _now: {"n": subject_id}, act
    )
    monkeypatch.setitem(QUESTIONS, Purpose.DID_IT_COME, trial)
    return heard


def a_link(here, circle):
    return link_for(here, circle["Effie"], Purpose.DID_IT_COME, 41)


def test_looking_answers_nothing_and_pressing_answers_once(here, circle, said):
    path = a_link(here, circle)
    visitor = Visitor(here)

    looked = [visitor.get(path).status_code for _look in range(3)]
    nothing_yet = list(said)
    pressed = visitor.post(path, {"how": "well"})
    again = Visitor(here).post(path, {"how": "well"})

    assert looked == [200, 200, 200]
    assert nothing_yet == []
    assert pressed.status_code == 200
    assert "Noted, with thanks." in pressed.text
    assert again.status_code == 410
    assert said == [(circle["Effie"].id, 41, "well", here.now())]


def test_of_six_presses_at_once_one_counts(here, circle, said):
    path = a_link(here, circle)
    visitors = [Visitor(here) for _each in range(6)]
    for visitor in visitors:
        visitor.token()

    with ThreadPoolExecutor(6) as many:
        codes = list(many.map(lambda one: one.post(path, {"how": "well"}).status_code, visitors))

    assert sorted(codes) == [200, *[410] * 5]
    assert len(said) == 1


def test_an_answer_that_is_not_taken_leaves_the_link_as_it_was(here, circle, said):
    path = a_link(here, circle)
    visitor = Visitor(here)

    refused = visitor.post(path, {"how": "badly"})
    taken = visitor.post(path, {"how": "well"})

    assert refused.status_code == 422
    assert "Say in a few words what was wrong." in refused.text
    assert taken.status_code == 200
    assert len(said) == 1


def test_an_answer_signs_nobody_in(here, circle, said):
    visitor = Visitor(here)

    visitor.post(a_link(here, circle), {"how": "well"})

    assert visitor.get("/todo").headers["Location"].startswith("/sign-in")


def test_an_answer_without_the_token_against_forgery_is_refused(here, circle, said):
    assert Visitor(here).client.post(a_link(here, circle)).status_code == 400
    assert said == []


def test_a_link_asks_only_what_it_was_made_for(here, circle, said):
    token = a_link(here, circle).rpartition("/")[2]

    assert Visitor(here).get(f"/answer/did-it-go/{token}").status_code in (404, 410)
    assert Visitor(here).get(f"/answer/anything/{token}").status_code == 404


def test_the_link_of_who_has_left_no_longer_works(here, circle, said):
    from exchange.actions.people.members import leave

    path = a_link(here, circle)
    leave(circle.actor("Effie"), circle["Effie"].id, here.now())

    assert Visitor(here).get(path).status_code == 410
