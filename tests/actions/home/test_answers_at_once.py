"""Presses of one link at once, on both databases: one is kept, and the others find it used."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from exchange.actions.home.answer_by_link import PressedLink, Went, answer_by_link
from exchange.actions.kernel.links import LinkGoneError, Purpose, make_link
from exchange.domain.posting.parcel import ParcelState
from exchange.records import DEEDS
from tests.app_fixtures import a_house, both_databases, fresh_database, token_of
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.season import MONDAY, a_season, again, morning, tell_weather

PRESSES = 4
LATER = morning(MONDAY, 17)


@pytest.fixture(params=both_databases)
def season(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address, a_house(tmp_path, address) as house:
        made = a_season(house)
        tell_weather(made, LATER)
        made.plan(LATER)
        yield made


@pytest.fixture
def link(season):
    with season.house.books.writing() as tx:
        winnie, parcel_id = season.ring["Winnie"], season.parcel_to("Effie").id
        made = make_link(tx, season.house, winnie, Purpose.DID_IT_GO, LATER, parcel_id)
    return PressedLink(token_of(made), Purpose.DID_IT_GO)


def test_of_presses_at_once_one_is_kept(season, link):
    def press(_number):
        try:
            answer_by_link(season.house, link, Went(MONDAY), LATER)
        except LinkGoneError:
            return "gone"
        return "kept"

    with ThreadPoolExecutor(PRESSES) as many:
        told = sorted(many.map(press, range(PRESSES)))

    assert told == [*["gone"] * (PRESSES - 1), "kept"]
    assert again(season, season.parcel_to("Effie")).state is ParcelState.POSTED
    with season.house.books.reading() as tx:
        deeds = DEEDS.all(tx, season.circle_id)
    assert [one.act for one in deeds].count("posted a parcel") == 1


def test_a_press_that_breaks_leaves_the_link_to_the_next(season, link, monkeypatch):
    before = dump(season.house.books)
    with monkeypatch.context() as patch:
        break_at(patch, "exchange.actions.posting.parcels.rewrite")
        with pytest.raises(BrokenError):
            answer_by_link(season.house, link, Went(MONDAY), LATER)

    assert dump(season.house.books) == before
    assert answer_by_link(season.house, link, Went(MONDAY), LATER).told_of.posted_on == MONDAY
