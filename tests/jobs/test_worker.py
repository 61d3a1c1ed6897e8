"""The worker beside the pages: it starts, does what is asked, and stops cleanly."""

import gc
import time
from pathlib import Path

import pytest

from exchange.actions.kernel.tasks import task_of
from exchange.jobs import table
from exchange.jobs.table import JOBS, HouseJob
from exchange.jobs.worker import Jobs, open_queue
from exchange.records.rows.running import TaskState
from tests.app_fixtures import a_house, both_databases, fresh_database, ring
from tests.builders.tasks import asked_for

# The queue's library leaves the connections of ended threads to the garbage collector.
pytestmark = pytest.mark.filterwarnings("ignore:<psycopg.Connection object:ResourceWarning")


@pytest.fixture(params=both_databases)
def house(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address, a_house(tmp_path, address) as made:
        yield made
    gc.collect()


def wait_until(true, seconds=10.0):
    ends = time.monotonic() + seconds
    while not true():
        if time.monotonic() > ends:
            pytest.fail("The worker did not come.")
        time.sleep(0.02)


def test_a_task_asked_for_is_done_by_the_worker_at_once(house, tmp_path, monkeypatch):
    seen = []

    def work(_actor, subject_id, watch, _now):
        watch("under way", 0.5)
        seen.append(subject_id)

    monkeypatch.setitem(table.KINDS, "trial", work)
    circle = ring(house)
    jobs = Jobs(house, open_queue(tmp_path, house.books.url))
    jobs.start()
    try:
        actor = circle.actor("Winnie")
        woken = type(actor)(
            jobs.house, actor.circle_id, actor.member_id, actor.household_id, organiser=True
        )
        task_id = asked_for(woken, "trial", 4)
        wait_until(lambda: task_of(actor, task_id).state == TaskState.DONE)
    finally:
        jobs.stop()

    assert seen == [4]


def test_stopping_lets_the_task_in_hand_end(house, tmp_path, monkeypatch):
    begun, ended = [], []

    def work(_actor, _subject, _watch, _now):
        begun.append(True)
        time.sleep(0.3)
        ended.append(True)

    monkeypatch.setitem(table.KINDS, "trial", work)
    circle = ring(house)
    jobs = Jobs(house, open_queue(tmp_path, house.books.url))
    asked_for(circle.actor("Winnie"), "trial")
    jobs.start()
    jobs.wake()
    wait_until(lambda: begun)

    jobs.stop()

    assert ended == [True]


def test_the_minute_mails_letters_and_wakes_the_tasks(house, tmp_path, monkeypatch):
    done = []
    monkeypatch.setitem(table.JOBS, "letters", HouseJob("Letters.", _noting(done, "letters")))
    monkeypatch.setitem(table.JOBS, "tasks", HouseJob("Tasks.", _noting(done, "tasks")))
    jobs = Jobs(house, open_queue(tmp_path, house.books.url, at_once=True))

    jobs.minute()

    assert sorted(done) == ["letters", "tasks"]


def test_the_minute_leaves_what_is_not_due(house, tmp_path, monkeypatch):
    done = []
    monkeypatch.setattr(
        table,
        "JOBS",
        {
            "now": HouseJob("Now.", _noting(done, "now")),
            "later": HouseJob("Later.", _noting(done, "later"), lambda _house, _now: False),
        },
    )
    monkeypatch.setattr("exchange.jobs.worker.JOBS", {**table.JOBS, "tasks": JOBS["tasks"]})

    Jobs(house, open_queue(tmp_path, house.books.url, at_once=True)).minute()

    assert done == ["now"]


def test_a_job_that_breaks_does_not_stop_the_worker(house, tmp_path, monkeypatch, caplog):
    done = []

    def broken(_house, _clock):
        raise ZeroDivisionError

    monkeypatch.setitem(table.JOBS, "letters", HouseJob("Letters.", broken))
    monkeypatch.setitem(table.JOBS, "tasks", HouseJob("Tasks.", _noting(done, "tasks")))

    Jobs(house, open_queue(tmp_path, house.books.url, at_once=True)).minute()

    assert done == ["tasks"]
    assert "The job letters failed" in caplog.text


def test_the_queue_of_a_file_lies_beside_the_records(tmp_path):
    folder: Path = tmp_path / "not yet there"

    open_queue(folder, "sqlite:///x.sqlite").put("key", "value")

    assert (folder / "jobs.sqlite").is_file()


def test_what_was_done_is_remembered_over_a_restart(house, tmp_path):
    first = Jobs(house, open_queue(tmp_path, house.books.url))
    first._mark_done("plan:1", "2027-04-05T12:00")

    again = Jobs(house, open_queue(tmp_path, house.books.url))

    assert again._was_done("plan:1", "2027-04-05T12:00")
    assert not again._was_done("plan:1", "2027-04-06T12:00")
    assert not again._was_done("plan:2", "2027-04-05T12:00")


def _noting(done, name):
    return lambda _house, _clock: done.append(name) or "done"
