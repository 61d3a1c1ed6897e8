"""The page on which a parcel is put into two, or another in with it."""

import re

import pytest

from tests.app_fixtures import Visitor, site
from tests.builders.season import a_season, announce
from tests.web.posting.test_parcels import words


@pytest.fixture
def season(tmp_path):
    with site(tmp_path) as here:
        made = a_season(here.house, claimants=("Effie",), asked=3, count=3)
        announce(made)
        yield here, made


@pytest.fixture
def winnie(season):
    here, made = season
    return Visitor(here, made.ring["Winnie"])


def test_into_two_and_back_into_one(season, winnie):
    made = season[1]
    parcel = made.parcel_to("Effie")
    page = f"/parcels/{parcel.id}"
    assert "One box or two" in words(winnie.get(page))
    name = re.search(r'name="(out-\d+)"', winnie.get(f"{page}/boxes").text).group(1)

    for typed in ({name: "3"}, {name: "9"}, {name: "some"}, {}):
        answer = winnie.post(f"{page}/split", typed)
        assert answer.status_code == 422
        assert len(made.parcels()) == 1
    winnie.post(f"{page}/split", {name: "1"})
    assert len(made.parcels()) == 2

    assert "Put it in" in words(winnie.get(f"{page}/boxes"))
    other = next(one for one in made.parcels() if one.id != parcel.id)
    turned = words(winnie.get(f"/parcels/{other.id}/boxes"))
    assert "Its day has been told already" in turned
    winnie.post(f"{page}/bundle/{other.id}")
    assert len(made.parcels()) == 1


def test_the_receiver_is_not_offered_it(season):
    here, made = season
    parcel = made.parcel_to("Effie")
    effie = Visitor(here, made.ring["Effie"])

    assert "One box or two" not in words(effie.get(f"/parcels/{parcel.id}"))
    assert effie.get(f"/parcels/{parcel.id}/boxes").status_code == 403
