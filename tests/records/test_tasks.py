"""A task is claimed by one worker, oldest first, and again when that worker has gone silent."""

from datetime import timedelta

import pytest
from sqlalchemy import delete
from sqlalchemy.exc import NoResultFound

from exchange.records import TASKS, tasks
from exchange.records.rows.running import TaskState
from exchange.records.tables import TaskTable
from tests.app_fixtures import NOW

MINUTE = timedelta(minutes=1)


@pytest.fixture(autouse=True)
def _none_left(tx):
    """Tasks are claimed over all circles, so that none may be left by the test before."""
    tx._session.execute(delete(TaskTable))


def a_task(tx, circle, **said):
    return TASKS.add(tx, circle.circle_id, kind="plan", asked_at=NOW, **said)


def kept(tx, circle, task_id):
    return TASKS.get(tx, circle.circle_id, task_id)


def test_the_oldest_waiting_task_is_claimed_first_and_each_once(tx, circle, other):
    first, second = a_task(tx, other), a_task(tx, circle)

    claimed = [tasks.claim(tx, NOW) for _ in range(3)]

    assert [one and one.id for one in claimed] == [first, second, None]
    assert (claimed[0].state, claimed[0].claimed_at, claimed[0].seen_at) == (
        TaskState.RUNNING, NOW, NOW,
    )  # fmt: skip


def test_the_task_asked_for_is_claimed_before_an_older_one(tx, circle):
    older, wanted = a_task(tx, circle), a_task(tx, circle)

    assert tasks.claim(tx, NOW, wanted).id == wanted
    assert tasks.claim(tx, NOW, wanted) is None
    assert kept(tx, circle, older).state is TaskState.WAITING


@pytest.mark.parametrize(
    "state", [TaskState.DONE, TaskState.FAILED, TaskState.CANCELLED, TaskState.RUNNING]
)
def test_what_is_over_or_well_under_way_is_not_claimed(tx, circle, state):
    a_task(tx, circle, state=state, seen_at=NOW - MINUTE)

    assert tasks.claim(tx, NOW) is None


@pytest.mark.parametrize(("silent", "again"), [(5 * MINUTE, False), (5.1 * MINUTE, True)])
def test_a_task_whose_worker_is_silent_for_more_than_five_minutes_is_claimed_anew(
    tx, circle, silent, again
):
    task_id = a_task(tx, circle, state=TaskState.RUNNING, seen_at=NOW - silent)

    claimed = tasks.claim(tx, NOW)

    assert (claimed is not None) == again
    assert kept(tx, circle, task_id).seen_at == (NOW if again else NOW - silent)


def test_what_is_over_is_not_claimed_anew_however_long_ago_it_was_seen(tx, circle):
    a_task(tx, circle, state=TaskState.DONE, seen_at=NOW - 60 * MINUTE)

    assert tasks.claim(tx, NOW) is None


@pytest.mark.parametrize(("told", "progress"), [(0.4, 0.4), (1.5, 1.0), (-0.5, 0.0)])
def test_how_far_a_task_has_come_is_kept_as_a_share(tx, circle, told, progress):
    task_id = a_task(tx, circle)

    stop = tasks.report(tx, task_id, "weighing days", told, NOW + MINUTE)

    task = kept(tx, circle, task_id)
    assert (task.stage, task.progress, task.seen_at) == ("weighing days", progress, NOW + MINUTE)
    assert not stop


def test_a_running_task_is_asked_to_stop_and_is_told_so_when_it_reports(tx, circle):
    task_id = a_task(tx, circle, state=TaskState.RUNNING)

    tasks.cancel(tx, circle.circle_id, task_id, NOW)

    assert tasks.report(tx, task_id, "", 0.0, NOW)
    assert (kept(tx, circle, task_id).state, kept(tx, circle, task_id).ended_at) == (
        TaskState.RUNNING, None,
    )  # fmt: skip


def test_a_waiting_task_that_is_cancelled_is_over_at_once(tx, circle):
    task_id, another = a_task(tx, circle), a_task(tx, circle)

    tasks.cancel(tx, circle.circle_id, task_id, NOW)

    task = kept(tx, circle, task_id)
    assert (task.cancel, task.state, task.ended_at) == (True, TaskState.CANCELLED, NOW)
    assert kept(tx, circle, another).state is TaskState.WAITING


def test_another_circle_cancels_nothing(tx, circle, other):
    task_id = a_task(tx, circle)

    with pytest.raises(NoResultFound):
        tasks.cancel(tx, other.circle_id, task_id, NOW)


def test_a_task_that_is_done_has_come_all_the_way_and_keeps_what_it_found(tx, circle):
    task_id = a_task(tx, circle)

    tasks.end(tx, task_id, TaskState.DONE, NOW, result={"plants": 3})

    task = kept(tx, circle, task_id)
    assert (task.state, task.ended_at, task.progress) == (TaskState.DONE, NOW, 1.0)
    assert (task.result, task.error) == ({"plants": 3}, "")


def test_a_task_that_failed_says_why_and_stays_as_far_as_it_came(tx, circle):
    task_id = a_task(tx, circle, progress=0.25)

    tasks.end(tx, task_id, TaskState.FAILED, NOW, error="No forecast came.")

    task = kept(tx, circle, task_id)
    assert (task.state, task.progress, task.error) == (
        TaskState.FAILED, 0.25, "No forecast came.",
    )  # fmt: skip
