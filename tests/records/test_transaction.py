"""The database: instants in UTC, no lost update, no plant given twice, nothing half kept."""

import time
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.varieties import name_variety
from exchange.actions.sharing.spares import NewSpare, list_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.records import (
    DEEDS,
    MEMBERS,
    PLACES,
    SPARES,
    DatabaseBusyError,
    NotHereError,
    circles,
    transaction,
)
from exchange.records.columns import NaiveInstantError, UTCInstant
from exchange.records.spares import NotEnoughLeftError, take
from tests.app_fixtures import NOW, a_day, a_house, both_databases, fresh_database, ring


class BrokenOffError(Exception):
    """Something breaks in the middle of an act."""


@pytest.fixture(scope="module", params=both_databases)
def house(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("books")
    with fresh_database(request.param, folder) as address, a_house(folder, address) as made:
        yield made


@pytest.fixture(scope="module")
def circle(house):
    return ring(house)


def a_spare(circle, count):
    effie = circle.actor("Effie")
    variety = name_variety(effie, f"Peat Smoke {count}", Species.DAHLIA, NOW)
    grow_too(effie, NewBatch(variety.id, count), NOW)
    days = a_day(12), a_day(30)
    new = NewSpare(variety.id, Material.ROOTED, Raised.COOL, count, *days, may_go=True)
    return list_spare(effie, new, NOW)


def test_twelve_at_once_never_give_more_plants_than_there_are(house, circle):
    spare_id = a_spare(circle, 5)

    def take_one(_which):
        try:
            with house.books.writing() as tx:
                take(tx, circle.circle_id, spare_id, 1)
        except NotEnoughLeftError:
            return 0
        return 1

    with ThreadPoolExecutor(12) as many:
        taken = sum(many.map(take_one, range(12)))

    with house.books.reading() as tx:
        spare = SPARES.get(tx, circle.circle_id, spare_id)
    assert (taken, spare.allocated) == (5, 5)


def test_the_database_itself_refuses_more_plants_than_there_are(house, circle):
    spare_id = a_spare(circle, 4)

    with pytest.raises(IntegrityError), house.books.writing() as tx:
        tx._session.execute(text("UPDATE spare SET allocated = 5 WHERE id = :id"), {"id": spare_id})


def test_no_update_is_lost_when_many_write_at_once(house, circle):
    with house.books.reading() as tx:
        before = circles.get(tx, circle.circle_id).about_how_many

    def one_more(_which):
        with house.books.writing() as tx:
            there = circles.get(tx, circle.circle_id)
            circles.change(tx, circle.circle_id, about_how_many=there.about_how_many + 1)

    with ThreadPoolExecutor(6) as many:
        list(many.map(one_more, range(30)))

    with house.books.reading() as tx:
        assert circles.get(tx, circle.circle_id).about_how_many == before + 30


def test_a_reader_sees_one_state_while_another_writes(house, circle):
    with house.books.reading() as reader:
        before = circles.get(reader, circle.circle_id).about_how_many
        with house.books.writing() as writer:
            circles.change(writer, circle.circle_id, about_how_many=before + 1)
        reader._session.expire_all()
        meanwhile = circles.get(reader, circle.circle_id).about_how_many

    with house.books.reading() as later:
        assert (meanwhile, circles.get(later, circle.circle_id).about_how_many) == (
            before,
            before + 1,
        )


def test_a_failed_act_leaves_nothing_behind(house, circle):
    with house.books.reading() as tx:
        before = DEEDS.all(tx, circle.circle_id), circles.get(tx, circle.circle_id)

    def half():
        with house.books.writing() as tx:
            circles.change(tx, circle.circle_id, name="Half kept")
            PLACES.remove(tx, circle.circle_id, circle.place("Winnie").id)
            raise BrokenOffError

    with pytest.raises(BrokenOffError):
        half()

    with house.books.reading() as tx:
        assert (DEEDS.all(tx, circle.circle_id), circles.get(tx, circle.circle_id)) == before
        assert len(PLACES.all(tx, circle.circle_id)) == 3


def test_what_is_to_be_done_afterwards_finds_all_kept(house, circle):
    seen = []

    def look(which):
        with house.books.reading() as tx:
            seen.append((which, circles.get(tx, circle.circle_id).about_how_many))

    with house.books.writing() as tx:
        tx.after(lambda: look("first"))
        circles.change(tx, circle.circle_id, about_how_many=77)
        tx.after(lambda: look("second"))
        assert seen == []

    assert seen == [("first", 77), ("second", 77)]


def test_nothing_is_done_afterwards_when_the_act_fails(house):
    done = []

    def half():
        with house.books.writing() as tx:
            tx.after(lambda: done.append("woken"))
            raise BrokenOffError

    with pytest.raises(BrokenOffError):
        half()

    assert done == []


@given(
    st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1)),
    st.integers(-14 * 60, 14 * 60),
)
def test_an_instant_comes_back_as_the_same_instant(naive, minutes):
    instant = naive.replace(tzinfo=timezone(timedelta(minutes=minutes)))
    kind = UTCInstant()

    kept = kind.process_bind_param(instant, None)

    assert kept.tzinfo is UTC
    assert kind.process_result_value(kept.replace(tzinfo=None), None) == instant
    assert kind.process_result_value(kept, None) == instant


def test_an_instant_keeps_its_zone_through_the_database(house, circle):
    away = timezone(timedelta(hours=-7))
    done_at = datetime(2027, 4, 5, 23, 30, tzinfo=away)
    with house.books.writing() as tx:
        deed_id = DEEDS.add(
            tx,
            circle.circle_id,
            actor_id=None,
            for_member_id=None,
            act="late",
            what="",
            done_at=done_at,
        )

    with house.books.reading() as tx:
        kept = DEEDS.get(tx, circle.circle_id, deed_id).done_at

    assert kept == done_at
    assert kept.utcoffset() == timedelta(0)


def test_an_instant_without_zone_is_refused():
    with pytest.raises(NaiveInstantError):
        UTCInstant().process_bind_param(datetime(2027, 4, 5), None)


def test_a_row_of_another_circle_is_not_here(house, circle):
    other = ring(house, "The Overfell Ring", ("Ismay",), "Tarn")

    with house.books.reading() as tx, pytest.raises(NotHereError):
        MEMBERS.get(tx, circle.circle_id, other["Ismay"].id)
    with house.books.reading() as tx:
        assert len(PLACES.all(tx, other.circle_id)) == 1
        assert len(PLACES.all(tx, circle.circle_id)) == 3


@pytest.mark.parametrize("kind", both_databases)
def test_a_writer_that_waits_too_long_is_told_so(kind, tmp_path, monkeypatch):
    monkeypatch.setattr(transaction, "BUSY_TIMEOUT_MS", 50)
    with (
        fresh_database(kind, tmp_path) as address,
        a_house(tmp_path, address) as house,
        house.books.writing() as first,
    ):
        first._session.connection()
        before = time.monotonic()
        with pytest.raises(DatabaseBusyError), house.books.writing() as second:
            second._session.connection()
        waited = time.monotonic() - before

    assert 0.04 < waited < 5


def test_facts_are_stamped_whenever_they_change(house, circle):
    with house.books.reading() as tx:
        before = circles.get(tx, circle.circle_id).stamp

    a_spare(circle, 3)

    with house.books.reading() as tx:
        assert circles.get(tx, circle.circle_id).stamp > before
