"""A share-out moves from worked out to confirmed once, and is not worked out again after that."""

from datetime import date, timedelta

import pytest

from exchange.domain.sharing.states import ShareOutState
from exchange.records import SHARE_OUTS, circles
from exchange.records.share_outs import WorkedOut, confirm, keep_result, last_confirmed
from tests.app_fixtures import NOW

OPEN, WORKED_OUT, CONFIRMED = ShareOutState.OPEN, ShareOutState.WORKED_OUT, ShareOutState.CONFIRMED
RESULT = WorkedOut({"answers": []}, {"form": 1}, NOW, 7)


def a_share_out(tx, circle, state=OPEN, **said):
    return SHARE_OUTS.add(
        tx, circle.circle_id, name="Spring", opens_on=date(2027, 3, 1),
        closes_on=date(2027, 4, 4), draw_hash="", draw_number="", state=state, **said,
    )  # fmt: skip


def kept(tx, circle, share_out_id):
    return SHARE_OUTS.get(tx, circle.circle_id, share_out_id)


def test_of_two_who_confirm_only_the_first_does(tx, circle):
    share_out_id, another = [a_share_out(tx, circle, WORKED_OUT) for _ in range(2)]

    done = [confirm(tx, circle.circle_id, share_out_id, NOW + timedelta(hours=n)) for n in (0, 1)]

    assert done == [True, False]
    row = kept(tx, circle, share_out_id)
    assert (row.state, row.confirmed_at) == (CONFIRMED, NOW)
    assert kept(tx, circle, another).state is WORKED_OUT


def test_what_is_not_worked_out_cannot_be_confirmed(tx, circle):
    share_out_id = a_share_out(tx, circle, OPEN)

    assert not confirm(tx, circle.circle_id, share_out_id, NOW)
    assert kept(tx, circle, share_out_id).state is OPEN


def test_another_circle_neither_confirms_nor_keeps_a_result(tx, circle, other):
    share_out_id = a_share_out(tx, circle, WORKED_OUT)

    assert not confirm(tx, other.circle_id, share_out_id, NOW)
    assert not keep_result(tx, other.circle_id, share_out_id, RESULT)
    assert kept(tx, circle, share_out_id).worked_stamp is None


def test_confirming_changes_the_facts_that_plans_are_made_from(tx, circle):
    before = circles.get(tx, circle.circle_id).stamp

    confirm(tx, circle.circle_id, a_share_out(tx, circle, WORKED_OUT), NOW)

    assert circles.get(tx, circle.circle_id).stamp > before


@pytest.mark.parametrize("state", [OPEN, WORKED_OUT])
def test_a_result_is_kept_whole_until_the_share_out_is_confirmed(tx, circle, state):
    share_out_id, another = [a_share_out(tx, circle, state) for _ in range(2)]

    assert keep_result(tx, circle.circle_id, share_out_id, RESULT)

    row = kept(tx, circle, share_out_id)
    assert (row.state, row.worked_at, row.worked_stamp) == (WORKED_OUT, NOW, 7)
    assert (row.proposal, row.working) == ({"answers": []}, {"form": 1})
    assert kept(tx, circle, another).proposal is None


def test_no_result_is_kept_over_a_confirmed_one(tx, circle):
    share_out_id = a_share_out(tx, circle, CONFIRMED)

    assert not keep_result(tx, circle.circle_id, share_out_id, RESULT)
    assert kept(tx, circle, share_out_id).proposal is None


def test_the_last_confirmed_is_the_one_confirmed_last_and_not_the_one_made_last(tx, circle):
    later = a_share_out(tx, circle, CONFIRMED, confirmed_at=NOW)
    a_share_out(tx, circle, CONFIRMED, confirmed_at=NOW - timedelta(days=1))
    a_share_out(tx, circle, WORKED_OUT)

    assert last_confirmed(tx, circle.circle_id).id == later


def test_of_two_confirmed_at_once_the_one_made_later_is_the_last(tx, circle):
    pair = [a_share_out(tx, circle, CONFIRMED, confirmed_at=NOW) for _ in range(2)]

    assert last_confirmed(tx, circle.circle_id).id == pair[1]


def test_without_any_confirmed_there_is_no_last(tx, circle):
    a_share_out(tx, circle, WORKED_OUT)

    assert last_confirmed(tx, circle.circle_id) is None
