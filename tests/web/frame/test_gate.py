"""Nobody sees a page without signing in."""

from tests.app_fixtures import Visitor


def test_a_stranger_is_sent_to_sign_in_and_back_again(here, circle):
    answer = Visitor(here).get("/todo")

    assert answer.status_code == 303
    assert answer.headers["Location"] == "/sign-in?next=/todo"


def test_a_member_sees_what_needs_doing(here, circle):
    answer = Visitor(here, circle["Cuthbert"]).get("/todo")

    assert answer.status_code == 200
    assert "The Lowmoor Circle" in answer.text
    assert "Share-out" not in answer.text


def test_the_organiser_sees_two_pages_more(here, circle):
    answer = Visitor(here, circle["Winnie"]).get("/todo")

    assert "Share-out" in answer.text
    assert "The circle" in answer.text


def test_a_post_without_the_token_is_refused(here, circle):
    visitor = Visitor(here, circle["Winnie"])

    refused = visitor.client.post(f"/act-for/{circle['Effie'].id}")
    taken = visitor.post(f"/act-for/{circle['Effie'].id}")

    assert refused.status_code == 400
    assert taken.status_code == 303
