"""Which jobs are due in which circle, each once for its hour."""

from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.jobs import round as rounds
from exchange.jobs.round import go_round, hour_due, run_now
from exchange.jobs.table import JOBS, CircleJob, HouseJob
from exchange.records import circles
from tests.app_fixtures import Clock, a_house, ring

LONDON = "Europe/London"


@pytest.fixture
def house(tmp_path):
    with a_house(tmp_path) as made:
        yield made


class Memory:
    """What the queue remembers of jobs done."""

    def __init__(self):
        self.kept = {}

    def was_done(self, key, hour):
        return self.kept.get(key) == hour

    def mark_done(self, key, hour):
        self.kept[key] = hour


def at(hour, minute=0, day=5):
    return datetime(2027, 4, day, hour, minute, tzinfo=UTC)


@pytest.mark.parametrize(
    ("now", "due"),
    [
        (at(10, 59), None),
        (at(11, 0), 12),
        (at(11, 40), 12),
        (at(12, 59), 12),
        (at(13, 0), None),
        (at(17, 5), 18),
    ],
)
def test_a_job_is_due_at_its_hour_in_the_circles_zone_and_two_hours_after(now, due):
    found = hour_due((12, 18), now, LONDON)

    assert (found.hour if found else None) == due


def test_an_hour_that_clocks_skip_is_caught_up_within_the_two():
    spring = datetime(2027, 3, 28, 1, 10, tzinfo=UTC)

    assert hour_due((2,), spring, LONDON).hour == 2


def a_job(monkeypatch, act, hours=(12,)):
    monkeypatch.setattr(rounds, "JOBS", {"noon": CircleJob("At noon.", hours, act)})


def test_each_job_is_done_once_in_each_circle_for_its_hour(house, monkeypatch):
    first, second = ring(house), ring(house, "The Overfell Ring", ("Ismay",), "Tarn")
    done, memory = [], Memory()
    a_job(monkeypatch, lambda actor, now: done.append((actor.circle_id, now)) or "done")

    for now in (at(11, 0), at(11, 1), at(11, 30), at(12, 59), at(16, 0)):
        go_round(house, Clock(now), memory.was_done, memory.mark_done)

    assert done == [(first.circle_id, at(11)), (second.circle_id, at(11))]


def test_the_next_day_it_is_done_again(house, monkeypatch):
    ring(house)
    done, memory = [], Memory()
    a_job(monkeypatch, lambda _actor, now: done.append(now) or "done")

    for day in (5, 6, 7):
        go_round(house, Clock(at(11, 3, day)), memory.was_done, memory.mark_done)

    assert done == [at(11, 3, day) for day in (5, 6, 7)]


def test_a_job_missed_by_a_stopped_machine_is_done_when_it_is_back(house, monkeypatch):
    ring(house)
    done, memory = [], Memory()
    a_job(monkeypatch, lambda _actor, now: done.append(now) or "done")

    go_round(house, Clock(at(12, 20)), memory.was_done, memory.mark_done)

    assert done == [at(12, 20)]


def test_a_job_that_fails_is_tried_again_and_stops_no_other(house, monkeypatch, caplog):
    ring(house)
    ring(house, "The Overfell Ring", ("Ismay",), "Tarn")
    tried, memory = [], Memory()

    def act(actor, now):
        tried.append(actor.circle_id)
        if len(tried) == 1:
            raise ZeroDivisionError
        return "done"

    a_job(monkeypatch, act)
    first = go_round(house, Clock(at(11)), memory.was_done, memory.mark_done)
    second = go_round(house, Clock(at(11, 1)), memory.was_done, memory.mark_done)

    assert (len(first), len(second)) == (1, 1)
    assert tried == [1, 2, 1]
    assert "failed; it is tried again" in caplog.text


def test_a_circle_on_a_fixed_day_has_its_jobs_on_that_day(house, monkeypatch):
    circle = ring(house)
    with house.books.writing() as tx:
        circles.change(tx, circle.circle_id, fixed_today=date(2028, 2, 1))
    seen, memory = [], Memory()
    a_job(monkeypatch, lambda _actor, now: seen.append(now.date()) or "done")

    go_round(house, Clock(at(11)), memory.was_done, memory.mark_done)

    assert seen == [date(2028, 2, 1)]


def test_a_job_can_be_done_by_name_at_any_hour(house):
    ring(house)

    assert run_now(house, "letters", Clock()) == ["0 sent, 0 to be tried later, 0 refused"]
    with pytest.raises(KeyError):
        run_now(house, "dinner", Clock())


def test_every_job_says_what_it_does_and_when():
    for name, job in JOBS.items():
        assert name.replace("-", "").isalpha()
        assert job.summary.endswith(".")
        if not isinstance(job, HouseJob):
            assert job.hours
            assert all(0 <= hour < 24 for hour in job.hours)
    assert timedelta(hours=1) <= rounds.LATEST_AFTER
