"""The pages of postage."""

from datetime import timedelta

import pytest

from exchange.actions.posting.parcels import say_posted
from exchange.records import TARIFF_BANDS
from tests.app_fixtures import Visitor
from tests.builders.season import MONDAY, again, morning
from tests.web.posting.test_parcels import words


@pytest.fixture
def season(both):
    return both[1]


@pytest.fixture
def winnie(both):
    here, made = both
    return Visitor(here, made.ring["Winnie"])


@pytest.fixture
def effie(both):
    here, made = both
    return Visitor(here, made.ring["Effie"])


@pytest.fixture
def sent(season):
    found = season.parcel_to("Effie")
    say_posted(season.organiser, found.id, MONDAY, morning(MONDAY + timedelta(hours=0), 17))
    return found


def bands(season):
    with season.house.books.reading() as tx:
        return TARIFF_BANDS.all(tx, season.circle_id)


def test_from_the_parcel_to_its_postage_and_back(season, winnie, sent):
    assert "Say what it cost" in words(winnie.get(f"/parcels/{sent.id}"))
    answer = winnie.post(f"/postage/parcels/{sent.id}", {"paid": "3,49"})

    assert answer.status_code == 303
    assert again(season, sent).postage == 349
    assert "£3.49, not paid back yet" in words(winnie.get(f"/parcels/{sent.id}"))
    page = winnie.get(f"/postage/parcels/{sent.id}").text
    assert 'value="3.49"' in page
    assert "Selling plants" in page


@pytest.mark.parametrize("typed", ["three pounds", "3.499", "-1"])
def test_what_is_no_sum_comes_back_with_an_example(season, winnie, sent, typed):
    answer = winnie.post(f"/postage/parcels/{sent.id}", {"paid": typed})

    assert answer.status_code == 422
    assert "Write a sum such as 3.49." in words(answer)
    assert again(season, sent).postage is None


def test_the_organiser_types_the_tariff_in_and_takes_a_line_out(season, winnie):
    winnie.post("/postage/tariff", {"name": "large letter", "price": "1.55"})
    page = words(winnie.get("/postage"))
    assert "large letter: £1.55" in page
    answer = winnie.post("/postage/tariff", {"name": "box", "price": "much"})
    assert answer.status_code == 422

    winnie.post(f"/postage/tariff/{bands(season)[0].id}/remove")
    assert bands(season) == ()


def test_a_member_sees_no_other_household_and_no_form(effie, winnie, sent):
    winnie.post(f"/postage/parcels/{sent.id}", {"paid": "3.49"})

    page = words(effie.get("/postage"))
    assert "3.49" not in page
    assert "Add to the tariff" not in page
    assert "By household" in words(winnie.get("/postage"))
    assert effie.get(f"/postage/parcels/{sent.id}").status_code == 403
    assert winnie.get("/postage/2019").status_code == 200
    assert winnie.get("/postage/99999").status_code == 404
