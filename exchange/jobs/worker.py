"""The worker: wakes each minute and when a task is asked for, beside the pages or by itself."""

import logging
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock

from huey import Huey, PostgresHuey, SqliteHuey, crontab
from huey.consumer import Consumer

from exchange.actions.kernel.actor import House
from exchange.jobs.round import go_round
from exchange.jobs.table import JOBS, Clock, HouseJob

NAME = "exchange"
TASKS = "tasks"
WORKERS = 2
"""Threads: one may be busy with a long task while the other mails letters."""
QUEUE_FILE = "jobs.sqlite"
log = logging.getLogger(__name__)


def machine_clock() -> datetime:
    """Give the machine's time."""
    return datetime.now(UTC)


def open_queue(folder: Path, database: str, *, at_once: bool = False) -> Huey:
    """Open the job queue: its own file beside a SQLite database, else within PostgreSQL.

    Parameters
    ----------
    at_once : do each job where it is asked for; for tests
    """
    if database.startswith("postgresql"):
        address = database.replace("postgresql+psycopg://", "postgresql://", 1)
        return PostgresHuey(NAME, dsn=address, immediate=at_once)
    folder.mkdir(parents=True, exist_ok=True)
    return SqliteHuey(NAME, filename=str(folder / QUEUE_FILE), immediate=at_once)


class Jobs:
    """The jobs of one installation.

    Attributes
    ----------
    house : the house given, which now wakes this worker when a task is asked for
    """

    def __init__(self, house: House, queue: Huey, clock: Clock = machine_clock) -> None:
        self.queue = queue
        self.clock = clock
        self.house = replace(house, wake=self.wake)
        self._minute = queue.periodic_task(crontab(), name="minute")(self.minute)
        self._do_tasks = queue.task(name=TASKS)(self._tasks)
        self._consumer: Consumer | None = None
        self._round = Lock()

    def wake(self) -> None:
        """Ask the worker to look for tasks now."""
        self._do_tasks()

    def minute(self) -> None:
        """Do what is due this minute."""
        for name, job in JOBS.items():
            if isinstance(job, HouseJob) and name != TASKS:
                self._safely(name, job)
        self.wake()
        if self._round.acquire(blocking=False):
            try:
                go_round(self.house, self.clock, self._was_done, self._mark_done)
            finally:
                self._round.release()

    def start(self) -> None:
        """Start the worker's threads beside the pages."""
        self._consumer = _QuietConsumer(self.queue, workers=WORKERS, periodic=True)
        self._consumer.start()

    def stop(self) -> None:
        """Stop the worker when its job in hand is done."""
        if self._consumer is not None:
            self._consumer.stop(graceful=True)
            self._consumer = None

    def run_forever(self) -> None:
        """Be the worker of this process, until it is told to end."""
        Consumer(self.queue, workers=WORKERS, periodic=True).run()

    def _tasks(self) -> None:
        job = JOBS[TASKS]
        if isinstance(job, HouseJob):
            self._safely(TASKS, job)

    def _safely(self, name: str, job: HouseJob) -> None:
        try:
            if job.due(self.house, self.clock()):
                log.info("%s: %s", name, job.act(self.house, self.clock))
        except Exception:
            log.exception("The job %s failed; it is tried again.", name)

    def _was_done(self, key: str, hour: str) -> bool:
        return bool(self.queue.get(f"done:{key}", peek=True) == hour)

    def _mark_done(self, key: str, hour: str) -> None:
        self.queue.put(f"done:{key}", hour)


class _QuietConsumer(Consumer):
    """A worker that leaves the process's signals to the web server."""

    def _set_signal_handlers(self) -> None:
        pass
