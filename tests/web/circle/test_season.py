"""The season report on its page: figures, picture, text to copy; for every member."""

from datetime import timedelta

import pytest

from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.records import PARCELS
from tests.app_fixtures import NOW
from tests.web.walk import furnish

GOES, COMES = NOW + timedelta(days=8), NOW + timedelta(days=10)


@pytest.fixture
def after(here, circle):
    furnish(circle)
    with circle.house.books.reading() as tx:
        (parcel,) = PARCELS.all(tx, circle.circle_id)
    say_posted(circle.actor("Winnie"), parcel.id, GOES.date(), GOES)
    say_arrived(circle.actor("Effie"), parcel.id, Arrival(COMES.date()), COMES)
    here.clock.at = COMES


@pytest.mark.usefixtures("after")
def test_every_member_sees_the_figures_the_picture_and_the_text(effie):
    page = effie.get("/season").text

    assert "The season 2026 to 2027" in page
    assert "heard from 1 of 1" in page
    assert 'id="weeks-wide"' in page
    assert "data-copy" in page


def test_before_anything_went_there_is_no_picture(effie):
    page = effie.get("/season").text

    assert "No parcel has gone yet in this season." in page
    assert 'id="weeks-wide"' not in page


@pytest.mark.usefixtures("after")
def test_another_season_has_its_own_page(effie):
    assert "The season 2025 to 2026" in effie.get("/season/2025").text
    assert effie.get("/season/99999").status_code == 404


def test_the_circles_page_leads_there(winnie, effie):
    assert 'href="/season"' in winnie.get("/circle").text
    assert 'href="/season"' in effie.get("/circle").text
