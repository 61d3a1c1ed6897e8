"""What happens automatically, and when: one row per job. `exchange run NAME` does one at once."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.circle.backup import is_backup_due, keep_daily_backup
from exchange.actions.kernel.actor import Actor, House
from exchange.actions.kernel.letters import send_waiting
from exchange.actions.kernel.tasks import run_one
from exchange.actions.posting.pack_tonight import is_pack_hour, pack_tonight
from exchange.actions.posting.questions import ask_questions
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.long_wait import ask_organisers
from exchange.actions.sharing.old_claims import look_at_old_claims
from exchange.actions.weather.forecasts import fetch_forecasts
from exchange.actions.weather.frost_tonight import is_frost_hour, tell_frost
from exchange.jobs.kinds import KINDS

Clock = Callable[[], datetime]
FETCH_AT = (5, 11, 17, 23)
PLAN_AT = (6, 12, 18)
"""An hour after a fetch, and just before members are told [h]."""
ASK_AT = (9,)
EVERY_HOUR = tuple(range(24))
"""For what is told by each place's own clock, and the circle may have places in several zones [h]."""


def _always(_whose: Actor | House, _now: datetime) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class HouseJob:
    """A job for the whole installation, looked at every minute.

    Attributes
    ----------
    act : takes the house and the machine's clock, and says what came of it
    due : whether there is anything to do at such a minute
    """

    summary: str
    act: Callable[[House, Clock], str]
    due: Callable[[House, datetime], bool] = _always


@dataclass(frozen=True, slots=True)
class CircleJob:
    """A job for each circle, done at hours of its own zone.

    Attributes
    ----------
    hours : full hours of the day at which it is done [h]
    act : takes the clock's actor and the circle's now, and says what came of it
    due : whether there is anything to do at such an hour
    """

    summary: str
    hours: tuple[int, ...]
    act: Callable[[Actor, datetime], str]
    due: Callable[[Actor, datetime], bool] = _always


def _letters(house: House, clock: Clock) -> str:
    done = send_waiting(house, clock())
    return f"{done.sent} sent, {done.later} to be tried later, {done.failed} refused"


def _backup(house: House, clock: Clock) -> str:
    return keep_daily_backup(house, clock())


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


def _pack(actor: Actor, now: datetime) -> str:
    told = pack_tonight(actor, now)
    return f"{len(told.to_pack)} parcels to pack, {len(told.to_wait)} to wait with"


def _frost(actor: Actor, now: datetime) -> str:
    return f"{tell_frost(actor, now)} places told of a cold night"


def _questions(actor: Actor, now: datetime) -> str:
    asked = ask_questions(actor, now)
    waited = ask_organisers(actor, now)
    return (
        f"{asked.did_it_go} senders asked, {asked.did_it_come} receivers asked,"
        f" {asked.still_ready} asked whether all is ready, {waited} parcels have waited long"
    )


def _claims(actor: Actor, now: datetime) -> str:
    done = look_at_old_claims(actor, now)
    return f"{done.asked} claims of an earlier season asked about, {done.lapsed} lapsed"


JOBS: dict[str, HouseJob | CircleJob] = {
    "letters": HouseJob("Mail the letters that wait.", _letters),
    "tasks": HouseJob("Do the tasks that wait.", _tasks),
    "backup": HouseJob("Write the backup of the day.", _backup, is_backup_due),
    "forecasts": CircleJob("Fetch the forecasts that have expired.", FETCH_AT, _forecasts),
    "plan": CircleJob("Weigh the posting day of every parcel anew.", PLAN_AT, _plan),
    "pack": CircleJob("Tell senders to pack tonight, or to wait.", EVERY_HOUR, _pack, is_pack_hour),
    "frost": CircleJob(
        "Tell where pots stand too cold tonight.", EVERY_HOUR, _frost, is_frost_hour
    ),
    "questions": CircleJob("Ask what went, what came, what is ready.", ASK_AT, _questions),
    "claims": CircleJob("Ask what is still wanted of an earlier season.", ASK_AT, _claims),
}
