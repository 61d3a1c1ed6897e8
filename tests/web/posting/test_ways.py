"""A way of sending and the town it goes through, edited by two at once: nothing is lost."""

import re

import pytest

from exchange.domain.posting.way import Carriage
from exchange.records import ROUTE_POINTS, WAYS
from tests.app_fixtures import Visitor


@pytest.fixture
def organiser(here, circle):
    """Winnie at one window."""
    return Visitor(here, circle["Winnie"])


@pytest.fixture
def other_window(here, circle):
    return Visitor(here, circle["Winnie"])


@pytest.fixture
def way(organiser, circle):
    """A packaged way; the page of ways adds them when first seen."""
    organiser.get("/circle/ways")
    return all_of(circle, WAYS, carriage=Carriage.POST)[0]


def all_of(circle, repository, **where):
    with circle.house.books.reading() as tx:
        return repository.all(tx, circle.circle_id, **where)


def version_in(page):
    return re.search(r'name="version"[^>]*value="(\w*)"', page.text).group(1)


def terms(way, version=None, **changed):
    fields = {
        "used": "y",
        "postage": "349",
        "cut_off_hour": str(int(way.cut_off_hour)),
        "hand_over_weekdays": [str(day) for day in sorted(way.hand_over_weekdays)],
        "delivery_weekdays": [str(day) for day in sorted(way.delivery_weekdays)],
    }
    return {**fields, **changed} | ({} if version is None else {"version": version})


def test_the_second_of_two_edits_of_a_way_is_shown_both(circle, way, organiser, other_window):
    path = f"/circle/ways/{way.id}"
    opened = version_in(organiser.get(path))
    other_window.post(path, terms(way, opened, cut_off_hour="12"))

    second = organiser.post(path, terms(way, opened, cut_off_hour="17"))

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "is now: “12”." in second.text
    assert 'value="17"' in second.text
    (kept,) = all_of(circle, WAYS, id=way.id)
    assert kept.cut_off_hour == 12


def test_pressing_again_keeps_the_second_edit_of_a_way(circle, way, organiser, other_window):
    path = f"/circle/ways/{way.id}"
    opened = version_in(organiser.get(path))
    other_window.post(path, terms(way, opened, cut_off_hour="12"))
    second = organiser.post(path, terms(way, opened, cut_off_hour="17"))

    third = organiser.post(path, terms(way, version_in(second), cut_off_hour="17"))

    assert third.status_code == 303
    (kept,) = all_of(circle, WAYS, id=way.id)
    assert kept.cut_off_hour == 17


def test_two_towns_for_one_way_are_both_shown(circle, way, organiser, other_window):
    path = f"/circle/ways/{way.id}/through"
    opened = version_in(organiser.get(path))
    first = other_window.post(path, {"town": "Shap, Cumbria", "version": opened})

    second = organiser.post(path, {"town": "Norwich, Norfolk", "version": opened})

    assert first.status_code == 303
    assert second.status_code == 422
    assert "is now: “Shap, Cumbria”." in second.text
    assert 'value="Norwich, Norfolk"' in second.text
    assert [one.town for one in all_of(circle, ROUTE_POINTS)] == ["Shap"]
    again = {"town": "Norwich, Norfolk", "version": version_in(second)}
    assert organiser.post(path, again).status_code == 303
    assert [one.town for one in all_of(circle, ROUTE_POINTS)] == ["Norwich"]


def test_by_hand_has_no_postage_on_a_form_that_comes_back(circle, organiser, way):
    (by_hand,) = all_of(circle, WAYS, carriage=Carriage.BY_HAND)
    path = f"/circle/ways/{by_hand.id}"

    shown = organiser.get(path)
    refused = organiser.post(path, terms(by_hand, version_in(shown), cut_off_hour="77"))

    assert refused.status_code == 422
    for page in (shown, refused):
        assert "By hand is always there." in page.text
        assert 'name="postage"' not in page.text


def test_a_way_in_a_country_where_nobody_grows_is_refused_beside_it(circle, organiser, way):
    fields = terms(way, name="Gull post", country="IS", next_day="100")
    shares = {"second_day": "0", "third_day": "0", "later": "0"}

    refused = organiser.post("/circle/ways/new", {**fields, **shares})

    assert refused.status_code == 422
    assert "Choose a country in which somebody grows." in refused.text
    assert "Gull post" in refused.text


def test_a_day_without_post_is_kept_only_where_the_circle_lives(circle, organiser):
    day = {"day": "2027-06-01", "label": "Regatta", "area": "IS"}

    refused = organiser.post("/circle/closures", day)

    assert refused.status_code == 422
    assert "Choose a place from the list." in refused.text
    assert "Regatta" in refused.text


def test_the_ways_are_looked_at_without_the_writers_lock(circle, organiser, way, monkeypatch):
    monkeypatch.setattr(type(circle.house.books), "writing", None)

    assert organiser.get("/circle/ways").status_code == 200
