"""The green button of a parcel's page is the next thing to do, never the second next."""

import re
from datetime import timedelta
from types import SimpleNamespace

import pytest

from exchange.actions.posting.parcels import say_posted
from exchange.domain.posting.parcel import ParcelState
from exchange.records import MEMBERS, PARCELS
from exchange.web.posting.parcel_sentences import may_have_come
from tests.app_fixtures import NOW, Visitor
from tests.builders.season import MONDAY, announce, morning
from tests.builders.season_kept import keep_season

TUESDAY, SUNDAY = MONDAY + timedelta(days=1), MONDAY - timedelta(days=1)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    members = ("Winnie", "Cuthbert", "Effie", "Odo")
    return keep_season(tmp_path_factory.mktemp("kept"), announce, members=members)


@pytest.fixture
def at(both):
    """Give a function that opens the parcel's page for somebody, and gives its filled buttons."""
    here, season = both
    with here.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, season.ring["Winnie"].id, organiser=False)
        MEMBERS.change(tx, season.circle_id, season.ring["Cuthbert"].id, organiser=True)
    parcel = season.parcel_to("Effie")

    def filled(name, day=MONDAY, **change):
        with here.house.books.writing() as tx:
            PARCELS.change(tx, season.circle_id, parcel.id, **change)
        here.clock.at = morning(day, 10)
        page = Visitor(here, season.ring[name]).get(f"/parcels/{parcel.id}").text
        pressed = re.findall(r'class="press"[^>]*>(.*?)</(?:button|a)>', page, re.DOTALL)
        offered = "It came, all well" in page
        return [" ".join(one.replace("\u00a0", " ").split()) for one in pressed], offered

    filled.season, filled.parcel = season, parcel
    return filled


def test_on_its_day_the_sender_says_it_went_and_nobody_is_asked_whether_it_came(at):
    assert at("Winnie") == (["I have posted it"], False)
    assert at("Effie") == ([], False)
    assert at("Cuthbert") == (["I have posted it"], False)


def test_once_its_day_has_passed_who_may_say_both_is_asked_first_whether_it_went(at):
    assert at("Effie", TUESDAY) == (["It came, all well"], True)
    assert at("Cuthbert", TUESDAY) == (["It went on Mon 5 April"], True)


def test_once_it_is_posted_it_may_have_come(at):
    say_posted(at.season.organiser, at.parcel.id, MONDAY, NOW)

    assert at("Effie") == (["It came, all well"], True)
    assert at("Cuthbert") == (["It came, all well"], True)


def test_before_its_day_the_senders_yes_comes_before_the_papers(at):
    assert at("Winnie", SUNDAY) == (["Yes, all can go"], False)


@pytest.mark.parametrize(
    ("state", "day", "by_hand", "asked"),
    [
        (ParcelState.ANNOUNCED, TUESDAY, False, False),
        (ParcelState.ANNOUNCED, MONDAY, False, False),
        (ParcelState.ANNOUNCED, MONDAY, True, True),
        (ParcelState.ANNOUNCED, SUNDAY, False, True),
        (ParcelState.POSTED, MONDAY, False, True),
        (ParcelState.PLANNED, None, False, False),
    ],
)
def test_what_is_handed_over_may_come_on_its_day_what_is_posted_only_after_it(
    state, day, by_hand, asked
):
    entry = SimpleNamespace(state=state, posting_day=day)
    page = SimpleNamespace(entry=entry, today=MONDAY, by_hand=by_hand)

    assert may_have_come(page) is asked
