"""A term of the circle, changed by two organisers at once: the second sees both values."""

import pytest

from exchange.actions.kernel.terms import posting_terms, sharing_terms
from exchange.records import circles
from tests.app_fixtures import Visitor
from tests.builders.edits import edited_by_two, version_in


@pytest.fixture
def two(here, circle):
    return Visitor(here, circle["Winnie"]), Visitor(here, circle["Winnie"])


def the_circle(here, circle):
    with here.house.books.reading() as tx:
        return circles.get(tx, circle.circle_id)


def test_the_second_sees_both_and_nothing_of_it_is_kept_yet(here, circle, two):
    page = "/circle/terms/most_contested"

    second = edited_by_two(two, page, {"value": "3"}, {"value": "5"})

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "is now: “3”." in second.text
    assert 'value="5"' in second.text
    assert sharing_terms(the_circle(here, circle)).most_contested == 3


def test_pressed_again_it_is_kept(here, circle, two):
    page = "/circle/terms/most_contested"
    second = edited_by_two(two, page, {"value": "3"}, {"value": "5"})

    third = two[0].post(page, {"value": "5", "version": version_in(second)})

    assert third.status_code == 303
    assert sharing_terms(the_circle(here, circle)).most_contested == 5


def test_days_of_the_week_and_of_the_year_are_read_out(two):
    days = edited_by_two(two, "/circle/terms/green_quick", {"value": ["1"]}, {"value": ["2"]})
    season = edited_by_two(
        two,
        "/circle/terms/closed_until",
        {"day": "28", "month": "2"},
        {"day": "27", "month": "3"},
    )

    assert "is now: Tuesday." in days.text
    assert "is now: “28”." in season.text
    assert "is now: February." in season.text


def test_another_term_does_not_stand_in_the_way(here, circle, two):
    one, other = two
    opened = version_in(one.get("/circle/terms/loss_limit"))
    other.post("/circle/terms/most_contested", {"value": "3"})

    kept = one.post("/circle/terms/loss_limit", {"value": "2.5", "version": opened})

    assert kept.status_code == 303
    assert posting_terms(the_circle(here, circle)).loss_limit == pytest.approx(1 / 40)
