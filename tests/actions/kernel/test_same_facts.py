"""An act that looks without the write lock records only what is still true, and says so when it never is."""

import pytest

from exchange.actions.kernel.same_facts import TRIES, KeepsChangingError, on_same_facts
from exchange.records import MEMBERS, circles
from tests.app_fixtures import a_house, ring


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        yield ring(house, members=("Winnie",))


def change_the_circle(circle):
    with circle.house.books.writing() as tx:
        circles.touch(tx, circle.circle_id)


def test_what_was_found_is_recorded_in_a_transaction_that_writes(circle):
    winnie = circle.actor("Winnie")

    def record(tx, surname):
        MEMBERS.change(tx, circle.circle_id, winnie.member_id, surname=surname)
        return surname

    assert on_same_facts(winnie, lambda _tx: "Trew", record) == "Trew"
    with circle.house.books.reading() as tx:
        assert MEMBERS.get(tx, circle.circle_id, winnie.member_id).surname == "Trew"


def test_it_looks_again_when_the_facts_moved_meanwhile(circle):
    seen = []

    def look(_tx):
        seen.append(len(seen))
        if len(seen) == 1:
            change_the_circle(circle)
        return seen[-1]

    assert on_same_facts(circle.actor("Winnie"), look, lambda _tx, found: found) == 1
    assert seen == [0, 1]


def test_when_they_move_each_time_nothing_is_recorded_and_it_is_said(circle):
    seen, recorded = [], []

    def look(_tx):
        seen.append(1)
        change_the_circle(circle)

    with pytest.raises(KeepsChangingError, match="Press again"):
        on_same_facts(circle.actor("Winnie"), look, lambda _tx, found: recorded.append(found))
    assert (len(seen), recorded) == (TRIES, [])
