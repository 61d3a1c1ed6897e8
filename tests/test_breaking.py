"""The helper for breaking an act in the middle sees every row, and makes the named step fail."""

import pytest

from exchange.actions.people.members import NewMember, invite
from exchange.records.tables import Base
from tests.app_fixtures import NOW, a_house
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import a_ring


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        yield a_ring(house)


def test_a_dump_holds_every_table_and_tells_one_change(circle):
    before = dump(circle.house.books)
    invite(circle.actor("Winnie"), NewMember("Odo"), NOW)
    after = dump(circle.house.books)

    assert set(before) == set(Base.metadata.tables)
    assert len(before["member"]) == 3
    changed = {name for name in before if before[name] != after[name]}
    assert changed == {"circle", "household", "member", "one_time_link", "letter", "deed"}


def test_a_broken_step_raises_where_it_is_called(circle, monkeypatch):
    break_at(monkeypatch, "exchange.actions.people.members.note")

    with pytest.raises(BrokenError, match=r"members\.note"):
        invite(circle.actor("Winnie"), NewMember("Odo"), NOW)


def test_a_step_that_is_not_there_is_no_step(monkeypatch):
    with pytest.raises(AttributeError):
        break_at(monkeypatch, "exchange.actions.people.members.no_such_step")
