"""Last year's share-outs come again: the day is copied, shown, put into the form, and changed there."""

from datetime import timedelta

import pytest

from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.domain.sharing.states import ShareOutState
from exchange.records import SHARE_OUTS
from tests.app_fixtures import NOW, a_day

AUTUMN = timedelta(days=200)


@pytest.fixture
def confirmed(circle):
    new = NewShareOut("Cuttings, spring", a_day(11), "a trial number")
    share_out_id = open_share_out(circle.actor("Winnie"), new, NOW)
    with circle.house.books.writing() as tx:
        SHARE_OUTS.change(tx, circle.circle_id, share_out_id, state=ShareOutState.CONFIRMED)
    return share_out_id


def test_the_day_is_copied_and_put_into_the_form(here, winnie, confirmed):
    here.clock.at = NOW + AUTUMN

    page = winnie.get("/share-out").text
    taken = winnie.get(f"/share-out?again={confirmed}").text

    assert "Sun 9 April 2028" in page.replace("\u00a0", " ")
    assert 'value="2028-04-09"' in taken
    assert 'value="Cuttings, spring"' in taken


def test_it_is_kept_as_changed_and_offered_no_longer(here, winnie, confirmed):
    here.clock.at = NOW + AUTUMN
    winnie.post("/share-out", {"name": "Cuttings", "closes_on": "2028-04-09"})

    assert "The same days again" not in winnie.get("/share-out").text


def test_before_its_day_has_passed_nothing_is_copied(winnie, confirmed):
    assert confirmed
    assert "The same days again" not in winnie.get("/share-out").text
