"""Two at once: one confirmation wins, nothing is given twice, no spare gives more than it has."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.share_out import (
    confirm_share_out,
    work_out_share_out,
)
from exchange.actions.sharing.share_out_state import AlreadyConfirmedError
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.states import ShareOutState
from exchange.records import ALLOCATIONS, ANSWERS, LETTERS, PARCELS, SHARE_OUTS, SPARES
from exchange.records.spares import NotEnoughLeftError, take
from tests.app_fixtures import NOW, a_house, both_databases, fresh_database
from tests.builders.season import a_season


@pytest.fixture(params=both_databases)
def house(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address, a_house(tmp_path, address) as made:
        yield made


@pytest.fixture
def worked_out(house):
    season = a_season(house, asked=2, count=3, confirmed=False)
    work_out_share_out(season.organiser, season.share_out_id, never_stop, NOW)
    return season


def at_once(*acts):
    """Do acts in threads that start together; give each one's result or refusal."""
    barrier = Barrier(len(acts))

    def run(act):
        barrier.wait()
        try:
            return act()
        except (RefusedError, NotEnoughLeftError) as refused:
            return refused

    with ThreadPoolExecutor(len(acts)) as pool:
        return list(pool.map(run, acts))


def confirming(season):
    return lambda: confirm_share_out(season.organiser, season.share_out_id, NOW)


def rows(season, repository):
    with season.house.books.reading() as tx:
        return repository.all(tx, season.circle_id)


def test_of_two_confirmations_at_once_one_wins_and_nothing_is_twice(worked_out):
    outcomes = at_once(confirming(worked_out), confirming(worked_out))

    lost = [one for one in outcomes if isinstance(one, Exception)]
    assert [type(one) for one in lost] == [AlreadyConfirmedError]
    won = next(one for one in outcomes if one not in lost)
    assert won.plants == 3
    assert sum(one.count for one in rows(worked_out, ALLOCATIONS)) == 3
    assert [one.allocated for one in rows(worked_out, SPARES)] == [3]
    claims_answered = Counter(one.claim_id for one in rows(worked_out, ANSWERS))
    assert set(claims_answered.values()) == {1}
    told = Counter(one.member_id for one in rows(worked_out, LETTERS) if one.kind == "share_out")
    assert set(told.values()) == {1}


def test_eight_confirmations_give_no_more_than_one(worked_out):
    outcomes = at_once(*[confirming(worked_out)] * 8)

    assert sum(not isinstance(one, Exception) for one in outcomes) == 1
    assert [one.allocated for one in rows(worked_out, SPARES)] == [3]


def test_working_out_again_never_undoes_a_confirmation(worked_out):
    def again():
        return work_out_share_out(worked_out.organiser, worked_out.share_out_id, never_stop, NOW)

    at_once(confirming(worked_out), again)
    confirmed = rows(worked_out, SHARE_OUTS)[0]
    given = sum(one.count for one in rows(worked_out, ALLOCATIONS))

    assert (confirmed.state, given) in {(ShareOutState.CONFIRMED, 3), (ShareOutState.WORKED_OUT, 0)}


def test_a_claim_changed_meanwhile_is_in_the_share_out_or_stops_it(worked_out):
    more = NewClaim(worked_out.variety_id, 1)

    outcomes = at_once(
        confirming(worked_out), lambda: claim(worked_out.ring.actor("Effie"), more, NOW)
    )

    given = sum(one.count for one in rows(worked_out, ALLOCATIONS))
    assert given == (0 if isinstance(outcomes[0], RefusedError) else 3)


def test_two_who_take_from_one_spare_get_no_more_than_there_is(worked_out):
    spare_id = worked_out.spares["Winnie"]

    def taking():
        with worked_out.house.books.writing() as tx:
            take(tx, worked_out.circle_id, spare_id, 2)

    outcomes = at_once(*[taking] * 4)

    assert sum(isinstance(one, NotEnoughLeftError) for one in outcomes) == 3
    spare = rows(worked_out, SPARES)[0]
    assert spare.allocated == 2 <= spare.count


def test_two_plans_at_once_make_each_parcel_once(worked_out):
    confirm_share_out(worked_out.organiser, worked_out.share_out_id, NOW)

    at_once(*[lambda: replan(worked_out.organiser, NOW)] * 2)

    parcels = rows(worked_out, PARCELS)
    assert len(parcels) == 2
    assert len({one.code for one in parcels}) == 2
