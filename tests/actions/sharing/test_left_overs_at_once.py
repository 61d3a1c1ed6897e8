"""Many who press for the same left-over at once: one is told it won, the others that it is gone, nobody waits in vain."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.same_facts import TRIES
from exchange.actions.sharing import left_overs
from exchange.actions.sharing.left_overs import take_left_over
from exchange.records import HOUSEHOLDS, MEMBERS, PLACES
from tests.app_fixtures import NOW, a_house, both_databases, fresh_database
from tests.builders.shared import a_sharing

TAKERS = 20
"""In the ordinary run; EXCHANGE_TEST_SCALE=10 makes it 200 [people]."""


@pytest.fixture(params=both_databases)
def sharing(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address, a_house(tmp_path, address) as house:
        yield a_sharing(house)


def people(sharing, how_many):
    """Give so many members, each of a household and a place of its own."""
    actors = []
    with sharing.house.books.writing() as tx:
        for number in range(how_many):
            household_id = HOUSEHOLDS.add(
                tx, sharing.circle_id, name=f"H{number}", posting_weekdays=(0,)
            )
            PLACES.add(
                tx, sharing.circle_id, household_id=household_id, name="home", town="Ludlow",
                county="Shropshire", country="GB", subdivision="ENG", latitude=52.4,
                longitude=-2.7, zone="Europe/London",
            )  # fmt: skip
            member_id = MEMBERS.add(
                tx, sharing.circle_id, household_id=household_id, first_name=f"M{number}",
                joined_at=NOW,
            )  # fmt: skip
            actors.append(Actor(sharing.house, sharing.circle_id, member_id, household_id))
    return actors


def press_at_once(actors, spare):
    """Let everybody press together; count what each is told."""
    begin = Barrier(len(actors))

    def come(actor):
        begin.wait()
        try:
            take_left_over(actor, spare, NOW)
        except RefusedError as refused:
            return type(refused).__name__
        return "won"

    with ThreadPoolExecutor(len(actors)) as pool:
        return Counter(pool.map(come, actors))


@pytest.mark.parametrize("plants", [1, 3])
def test_of_many_at_once_as_many_win_as_there_are_plants_and_the_rest_are_told(
    sharing, scale, plants
):
    takers = people(sharing, max(TAKERS, scale(TAKERS)))
    spare = sharing.offer("Winnie", sharing.name(), count=plants)
    sharing.all_of_it()

    told = press_at_once(takers, spare)

    assert told == {"won": plants, "JustGoneError": len(takers) - plants}
    assert sharing.spare_row(spare).allocated == plants
    assert len(sharing.given()) == plants


def test_the_case_is_built_while_others_may_write(sharing, monkeypatch):
    """Whoever looks over a left-over holds nobody up: another member's write gets through meanwhile."""
    spare = sharing.offer("Winnie", sharing.name(), count=2)
    sharing.all_of_it()
    looked = []
    build = left_overs.share_out_case

    def others_write(*asked, **more):
        if not looked:
            sharing.name(f"Tin Kettle {len(looked)}")
        looked.append(spare)
        return build(*asked, **more)

    monkeypatch.setattr(left_overs, "share_out_case", others_write)
    take_left_over(sharing.actor("Effie"), spare, NOW)

    assert len(looked) == 2 <= TRIES, "looked again, since the facts had changed"
    assert sharing.spare_row(spare).allocated == 1
