"""A circle as plain rows, and back: equal table by table, on either database and between them."""

import json
from datetime import UTC, datetime

import pytest
from sqlalchemy import select, update

from exchange.records import DEEDS, Books
from exchange.records.tables import Base
from exchange.records.upgrade import upgrade
from exchange.records.whole_circle import NotEmptyError, RowRefusedError, all_rows, put_back
from tests.app_fixtures import both_databases, fresh_database
from tests.records.kept_circles.kept import kept_circles
from tests.records.kept_circles.raw import tables_of

CIRCLE = 1


@pytest.fixture(params=kept_circles())
def old(request, tmp_path):
    """Give a database with two circles, one of which has rows in every table."""
    with request.param.unpacked(tmp_path) as address:
        books = Books(address)
        upgrade(books)
        yield books
        books.close()


@pytest.fixture(params=both_databases)
def new(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address:
        books = Books(address)
        upgrade(books)
        yield books
        books.close()


def exported(books):
    with books.reading() as tx:
        return json.loads(json.dumps(all_rows(tx, CIRCLE), allow_nan=False))


def of_circle(tables):
    """Keep the rows of the circle, by what the database itself says."""
    members = {key: row for key, row in tables["member"].items() if row["circle_id"] == CIRCLE}
    accounts = {row["account_id"] for row in members.values()}
    kept = {
        "account": lambda row: row["id"] in accounts,
        "one_time_link": lambda row: row["member_id"] in members,
        "circle": lambda row: row["id"] == CIRCLE,
    }
    return {
        name: {
            key: row
            for key, row in rows.items()
            if kept.get(name, lambda row: row["circle_id"] == CIRCLE)(row)
        }
        for name, rows in tables.items()
    }


def test_what_is_put_back_is_equal_table_by_table(old, new):
    put_back(new, exported(old))

    before, after = of_circle(tables_of(old.engine)), tables_of(new.engine)
    assert [name for name in before if before[name] != after[name]] == []
    assert before.keys() == after.keys()


def test_what_is_exported_again_is_the_same(old, new):
    first = exported(old)

    put_back(new, first)

    assert exported(new) == first


def test_new_rows_follow_on(old, new):
    put_back(new, exported(old))
    now = datetime(2027, 4, 5, tzinfo=UTC)

    with new.writing() as tx:
        last = max(one.id for one in DEEDS.all(tx, CIRCLE))
        deed = {"actor_id": None, "for_member_id": None, "act": "added", "what": ""}
        added = DEEDS.add(tx, CIRCLE, **deed, done_at=now)

    assert added == last + 1


@pytest.fixture
def rows(small):
    return exported(small)


@pytest.fixture
def small(house, circle):
    return house.books


def test_every_table_is_exported(rows):
    assert rows.keys() == Base.metadata.tables.keys()
    assert rows["member"]


def test_nothing_is_put_on_top_of_what_is_there(small, rows):
    with pytest.raises(NotEmptyError):
        put_back(small, rows)


SPOILT = {
    "a column that is not known": (
        lambda rows: rows["member"][1].update(colour="red"),
        "row 2 of member: these columns are missing or not known: colour",
    ),
    "a column that is missing": (
        lambda rows: rows["member"][0].pop("email"),
        "row 1 of member: these columns are missing or not known: email",
    ),
    "a day that is none": (
        lambda rows: rows["household"][0].update(joined_on="2027-13-45"),
        "row 1 of household: ",
    ),
    "an instant without its zone": (
        lambda rows: rows["member"][0].update(joined_at="2027-04-05T09:00:00"),
        "joined_at has no time zone",
    ),
    "a text for a number": (
        lambda rows: rows["household"][0].update(parcels_a_day="three"),
        "parcels_a_day holds 'three'",
    ),
    "what a check refuses": (
        lambda rows: rows["household"][0].update(parcels_a_day=0),
        "row 1 of household: ",
    ),
    "what points at nothing": (
        lambda rows: rows["member"][0].update(household_id=987654),
        "row 1 of member: ",
    ),
    "a table that is not known": (
        lambda rows: rows.update(orchard=[]),
        "there is no table orchard",
    ),
}


@pytest.mark.parametrize("what", SPOILT)
def test_what_does_not_fit_is_refused_and_nothing_is_kept(new, rows, what):
    spoil, sentence = SPOILT[what]
    spoil(rows)

    with pytest.raises(RowRefusedError, match=sentence):
        put_back(new, rows)

    assert not any(tables_of(new.engine).values())


def test_rows_merged_into_rows_of_a_higher_id_are_put_back(old, new):
    with old.engine.begin() as connection:
        for table in ("variety", "member", "household"):
            columns = Base.metadata.tables[table].c
            ids = connection.execute(
                select(columns.id).where(columns.circle_id == CIRCLE).order_by(columns.id)
            ).scalars()
            first, *_others, last = ids
            statement = update(Base.metadata.tables[table]).where(columns.id == first)
            connection.execute(statement.values(merged_into=last))

    put_back(new, exported(old))

    merged = [one for one in exported(new)["variety"] if one["merged_into"] is not None]
    assert [one["merged_into"] > one["id"] for one in merged] == [True]
