"""A repository: defaults of the row's dataclass, lookups by value, by emptiness, or by one of several."""

from datetime import date

import pytest
from sqlalchemy import text

from exchange.domain.sharing.states import AllocationState, ShareOutState
from exchange.records import AWAY, MEMBERS, SHARE_OUTS, NotHereError, circles
from tests.app_fixtures import NOW, a_house, fresh_database, ring


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("repository")
    with fresh_database("sqlite", folder) as address, a_house(folder, address) as made:
        yield made


@pytest.fixture(scope="module")
def circle(house):
    return ring(house)


@pytest.fixture
def tx(house):
    with house.books.writing() as opened:
        yield opened


def a_share_out(tx, circle, closes_on, **said):
    return SHARE_OUTS.add(
        tx, circle.circle_id, name="Spring", opens_on=date(2027, 3, 1), closes_on=closes_on,
        draw_hash="", draw_number="", **said,
    )  # fmt: skip


def test_what_is_not_said_has_the_default_of_the_row(tx, circle):
    row = SHARE_OUTS.get(tx, circle.circle_id, a_share_out(tx, circle, date(2027, 4, 4)))

    assert row.state is ShareOutState.OPEN
    assert (row.worked_at, row.proposal) == (None, None)


def test_a_state_is_stored_as_its_word_and_read_as_its_member(tx, circle):
    kept = a_share_out(tx, circle, date(2027, 4, 5), state=ShareOutState.WORKED_OUT)

    (found,) = SHARE_OUTS.all(tx, circle.circle_id, state=ShareOutState.WORKED_OUT, id=kept)

    assert found.state is ShareOutState.WORKED_OUT
    stored = tx._session.execute(text("SELECT state FROM share_out WHERE id = :id"), {"id": kept})
    assert stored.scalar() == "worked_out"
    words = {"confirmed", "agreed", "refused", "declined", "failed", "lost"}
    assert set(AllocationState) == words


def test_a_set_asks_for_any_of_it_and_an_empty_one_for_nothing(tx, circle):
    ids = {circle["Winnie"].id, circle["Effie"].id}

    assert set(MEMBERS.by_id(tx, circle.circle_id, id=ids)) == ids
    assert MEMBERS.all(tx, circle.circle_id, id=set()) == ()


def test_none_asks_for_what_is_empty(tx, circle):
    before = len(MEMBERS.all(tx, circle.circle_id))
    MEMBERS.change(tx, circle.circle_id, circle["Effie"].id, left_at=NOW)

    assert len(MEMBERS.all(tx, circle.circle_id, left_at=None)) == before - 1


def test_rows_come_in_the_order_of_their_noun(tx, circle):
    late, early = (a_share_out(tx, circle, date(2027, 6, day)) for day in (9, 2))

    found = [one.id for one in SHARE_OUTS.all(tx, circle.circle_id, id={late, early})]

    assert found == [early, late]


def test_only_what_changes_a_fact_stamps_the_circle(tx, circle):
    def stamp():
        tx._session.expire_all()
        return circles.get(tx, circle.circle_id).stamp

    away = AWAY.add(
        tx,
        circle.circle_id,
        household_id=circle["Winnie"].household_id,
        first=date(2027, 5, 1),
        last=date(2027, 5, 9),
    )
    before = stamp()

    AWAY.change(tx, circle.circle_id, away, household_id=circle["Winnie"].household_id)
    assert stamp() == before
    AWAY.change(tx, circle.circle_id, away, household_id=circle["Effie"].household_id)
    assert stamp() == before + 1
    AWAY.remove(tx, circle.circle_id, away)
    assert stamp() == before + 2
    with pytest.raises(NotHereError):
        AWAY.get(tx, circle.circle_id, away)
