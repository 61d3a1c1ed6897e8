"""The pages on which somebody else takes a parcel over."""

import pytest

from tests.app_fixtures import Visitor
from tests.builders.season import again
from tests.web.posting.test_parcels import words


@pytest.fixture
def season(both):
    return both[1]


@pytest.fixture
def parcel(season):
    return season.parcel_to("Effie")


@pytest.fixture
def winnie(both):
    here, made = both
    return Visitor(here, made.ring["Winnie"])


@pytest.fixture
def cuthbert(both):
    here, made = both
    return Visitor(here, made.ring["Cuthbert"])


def test_asked_taken_over_and_left_again(season, parcel, winnie, cuthbert):
    page = f"/parcels/{parcel.id}"
    assert "Somebody else posts it" in words(winnie.get(page))
    assert "Cuthbert" in words(winnie.get(f"{page}/somebody-else"))
    household_id = season.ring["Cuthbert"].household_id
    winnie.post(f"{page}/somebody-else", {"household_id": str(household_id)})
    assert "Cuthbert is asked to post it" in words(winnie.get(page))

    assert "Can you post this?" in words(cuthbert.get(page))
    assert "Say whether you can post" in words(cuthbert.get("/todo"))
    cuthbert.post(f"{page}/take-over")
    assert "You post it for Winnie." in words(cuthbert.get(page))
    assert again(season, parcel).poster_household_id == household_id
    cuthbert.post(f"{page}/leave-to-sender")
    assert again(season, parcel).poster_household_id is None


@pytest.mark.parametrize("typed", ["", "x", "999999"])
def test_nobody_chosen_comes_back_with_what_to_do(season, parcel, winnie, typed):
    answer = winnie.post(f"/parcels/{parcel.id}/somebody-else", {"household_id": typed})

    assert answer.status_code == 422
    assert "Choose somebody from the list." in words(answer)
    assert again(season, parcel).asked_to_post_id is None
