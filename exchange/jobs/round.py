"""Going round the circles: which jobs are due, each done once for its hour."""

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.circle.set_up import every_circle
from exchange.actions.kernel.actor import House, clock_actor, now_of
from exchange.jobs.table import JOBS, CircleJob, Clock

LATEST_AFTER = timedelta(hours=2)
"""How long after its hour a job missed by a stopped machine is still done."""

log = logging.getLogger(__name__)

WasDone = Callable[[str, str], bool]
MarkDone = Callable[[str, str], None]


def hour_due(hours: tuple[int, ...], now: datetime, zone: str) -> datetime | None:
    """Give the latest of a job's hours that came within the last two, or None."""
    here = now.astimezone(ZoneInfo(zone))
    for back in range(LATEST_AFTER // timedelta(hours=1)):
        full = (here - timedelta(hours=back)).replace(minute=0, second=0, microsecond=0)
        if full.hour in hours and here - full < LATEST_AFTER:
            return full
    return None


def go_round(house: House, clock: Clock, was_done: WasDone, mark_done: MarkDone) -> list[str]:
    """Do every circle's jobs that are due and were not done yet for their hour.

    Returns
    -------
    names of the jobs done, with the circle's id: "pack:3"
    """
    done = []
    for circle in every_circle(house):
        now = now_of(house, circle, clock())
        for name, job in JOBS.items():
            if not isinstance(job, CircleJob):
                continue
            hour = hour_due(job.hours, now, circle.zone)
            key = f"{name}:{circle.id}"
            if hour is None or was_done(key, hour.isoformat()):
                continue
            try:
                actor = clock_actor(house, circle.id)
                if not job.due(actor, now):
                    continue
                log.info("%s: %s", key, job.act(actor, now))
            except Exception:
                log.exception("The job %s of circle %s failed; it is tried again.", name, circle.id)
                continue
            mark_done(key, hour.isoformat())
            done.append(key)
    return done


def run_now(house: House, name: str, clock: Clock) -> list[str]:
    """Do one job at once, in every circle, and say what came of it.

    Raises
    ------
    KeyError
        When there is no such job.
    """
    job = JOBS[name]
    if not isinstance(job, CircleJob):
        return [job.act(house, clock)]
    return [
        f"{circle.name}: {job.act(clock_actor(house, circle.id), now_of(house, circle, clock()))}"
        for circle in every_circle(house)
    ]
