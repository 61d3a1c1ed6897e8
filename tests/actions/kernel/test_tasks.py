"""Tasks: done once, watched, stopped, and taken up again after a worker died."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import cancel_task, run_one, task_of
from exchange.domain.optimise.programme import Stopped
from exchange.records.rows.running import TaskState
from exchange.records.tasks import SILENT_AFTER
from tests.app_fixtures import NOW, Clock, Ring, a_house, both_databases, fresh_database, ring
from tests.builders.tasks import asked_for


@pytest.fixture(scope="module", params=both_databases)
def house(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("tasks")
    with fresh_database(request.param, folder) as address, a_house(folder, address) as made:
        yield made


@pytest.fixture(scope="module")
def circle(house) -> Ring:
    return ring(house)


@pytest.fixture
def winnie(house, circle):
    yield circle.actor("Winnie")
    while run_one(house, {}, Clock()):
        pass


def count_to_three(seen):
    def work(actor, subject_id, watch, now):
        for step in range(3):
            watch.go_on(f"step {step + 1}", step / 3)
        seen.append((actor.clock, subject_id, now))
        return {"steps": 3}

    return work


def test_a_task_is_done_once_and_its_result_kept(house, winnie):
    seen = []
    task_id = asked_for(winnie, "count", 7)

    done = [run_one(house, {"count": count_to_three(seen)}, Clock()) for _try in range(2)]
    task = task_of(winnie, task_id)

    assert done == [True, False]
    assert seen == [(True, 7, NOW)]
    assert (task.state, task.progress, task.result) == (TaskState.DONE, 1.0, {"steps": 3})


def test_asking_wakes_the_worker(house, circle):
    woken = []
    actor = replace(circle.actor("Winnie"), house=replace(house, wake=lambda: woken.append(True)))

    task_id = asked_for(actor, "count")

    assert woken == [True]
    run_one(house, {"count": count_to_three([])}, Clock(), task_id)


def test_the_same_task_asked_for_twice_is_done_once(house, winnie):
    assert asked_for(winnie, "count", 7) == asked_for(winnie, "count", 7)
    assert asked_for(winnie, "count", 8) != asked_for(winnie, "count", 7)


def test_how_far_it_has_come_is_seen_from_outside(house, winnie):
    seen = []

    def work(_actor, _subject, watch, _now):
        watch("halfway", 0.5)
        seen.append(task_of(winnie, task_id))

    task_id = asked_for(winnie, "look")
    run_one(house, {"look": work}, Clock(), task_id)

    assert [(one.state, one.stage, one.progress) for one in seen] == [
        (TaskState.RUNNING, "halfway", 0.5)
    ]


def test_a_running_task_stops_when_asked_to(house, winnie):
    went_on = []

    def work(_actor, _subject, watch, now):
        watch.go_on("first", 0.1)
        cancel_task(winnie, task_id, now)
        watch.go_on("second", 0.2)
        went_on.append(True)

    task_id = asked_for(winnie, "long")
    run_one(house, {"long": work}, Clock(), task_id)

    assert went_on == []
    assert task_of(winnie, task_id).state == TaskState.CANCELLED


def test_a_solver_that_was_stopped_ends_the_task_as_stopped(house, winnie):
    def work(_actor, _subject, watch, now):
        cancel_task(winnie, task_id, now)
        if watch.solver("rule 1", 3.0, 4.0):
            raise Stopped

    task_id = asked_for(winnie, "solve")
    run_one(house, {"solve": work}, Clock(), task_id)

    assert task_of(winnie, task_id).state == TaskState.CANCELLED


def test_a_waiting_task_that_is_stopped_never_begins(house, winnie):
    seen = []
    task_id = asked_for(winnie, "count", 3)

    cancel_task(winnie, task_id, NOW)

    assert run_one(house, {"count": count_to_three(seen)}, Clock(), task_id) is False
    assert seen == []
    assert task_of(winnie, task_id).state == TaskState.CANCELLED


def test_a_refusal_is_told_in_its_own_words(house, winnie):
    def work(_actor, _subject, _watch, _now):
        raise RefusedError("The share-out was confirmed before.")

    task_id = asked_for(winnie, "refused")
    run_one(house, {"refused": work}, Clock(), task_id)
    task = task_of(winnie, task_id)

    assert (task.state, task.error) == (TaskState.FAILED, "The share-out was confirmed before.")


def test_a_fault_of_ours_fails_the_task_and_is_not_hidden(house, winnie):
    def work(_actor, _subject, _watch, _now):
        raise ZeroDivisionError

    task_id = asked_for(winnie, "broken")

    with pytest.raises(ZeroDivisionError):
        run_one(house, {"broken": work}, Clock(), task_id)
    assert task_of(winnie, task_id).state == TaskState.FAILED


def test_a_task_whose_worker_was_killed_is_taken_up_again(house, winnie):
    seen = []

    def killed(_actor, _subject, _watch, _now):
        raise KeyboardInterrupt

    clock = Clock()
    task_id = asked_for(winnie, "count", 5)
    with pytest.raises(KeyboardInterrupt):
        run_one(house, {"count": killed}, clock, task_id)
    too_soon = run_one(house, {"count": count_to_three(seen)}, clock, task_id)
    clock.at += SILENT_AFTER + timedelta(seconds=1)
    again = run_one(house, {"count": count_to_three(seen)}, clock, task_id)

    assert (too_soon, again) == (False, True)
    assert len(seen) == 1
    assert task_of(winnie, task_id).state == TaskState.DONE


def test_of_six_workers_at_once_one_does_the_task(house, winnie):
    seen = []
    task_id = asked_for(winnie, "count", 9)

    with ThreadPoolExecutor(6) as many:
        done = list(
            many.map(
                lambda _worker: run_one(house, {"count": count_to_three(seen)}, Clock(), task_id),
                range(6),
            )
        )

    assert sorted(done) == [False] * 5 + [True]
    assert len(seen) == 1


def test_a_member_does_not_watch_the_organisers_tasks(house, circle, winnie):
    task_id = asked_for(winnie, "count", 11)

    with pytest.raises(NotAllowedError):
        task_of(circle.actor("Effie"), task_id)
    with pytest.raises(NotAllowedError):
        cancel_task(circle.actor("Effie"), task_id, NOW)
