"""What happens by itself, and when: a row a job. Each is also run by `exchange run NAME`."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.actor import Actor, House
from exchange.actions.forecasts import fetch_forecasts
from exchange.actions.letters import send_waiting
from exchange.actions.plan import replan
from exchange.actions.tasks import run_one
from exchange.jobs.kinds import KINDS

Clock = Callable[[], datetime]
FETCH_AT = (5, 11, 17, 23)
PLAN_AT = (6, 12, 18)
"""An hour after a fetch, and just before members are told [h]."""


@dataclass(frozen=True, slots=True)
class HouseJob:
    """A job for the whole installation, done every minute.

    Attributes
    ----------
    act : takes the house and the machine's clock, and says what came of it
    """

    summary: str
    act: Callable[[House, Clock], str]


@dataclass(frozen=True, slots=True)
class CircleJob:
    """A job for each circle, done at hours of its own zone.

    Attributes
    ----------
    hours : full hours of the day at which it is done [h]
    act : takes the clock's actor and the circle's now, and says what came of it
    """

    summary: str
    hours: tuple[int, ...]
    act: Callable[[Actor, datetime], str]


def _letters(house: House, clock: Clock) -> str:
    done = send_waiting(house, clock())
    return f"{done.sent} sent, {done.later} to be tried later, {done.failed} refused"


def _tasks(house: House, clock: Clock) -> str:
    done = 0
    while run_one(house, KINDS, clock):
        done += 1
    return f"{done} done"


def _forecasts(actor: Actor, now: datetime) -> str:
    fetched = fetch_forecasts(actor, now)
    told = "".join(f"; {fault}" for fault in fetched.faults)
    return f"{fetched.places} places fetched, {fetched.kept} still fresh{told}"


def _plan(actor: Actor, now: datetime) -> str:
    done = replan(actor, now)
    return f"{len(done.plan.parcels)} parcels weighed, {len(done.moved)} moved"


JOBS: dict[str, HouseJob | CircleJob] = {
    "letters": HouseJob("Mail the letters that wait.", _letters),
    "tasks": HouseJob("Do the tasks that wait.", _tasks),
    "forecasts": CircleJob("Fetch the forecasts that have expired.", FETCH_AT, _forecasts),
    "plan": CircleJob("Weigh the posting day of every parcel anew.", PLAN_AT, _plan),
}
