"""The demo lived on, day by day: parcels go, most are heard of, some plants die."""

from datetime import date, datetime, timedelta

from exchange.actions.demo.build import Demo
from exchange.actions.kernel.actor import Actor, clock_actor
from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.actions.posting.replan import replan
from exchange.domain.arriving.arrival import Condition
from exchange.domain.posting.parcel import ParcelState
from exchange.records import MEMBERS, PARCELS
from exchange.records.rows.posting import ParcelRow
from tests.app_fixtures import Site

A_DAY = timedelta(days=1)
SILENT_SENDER, SILENT_RECEIVER, DEAD, LOST = 7, 5, 11, 17
"""Of so many parcels one sender, or receiver, says nothing; one comes dead, one is lost."""
WEIGHED_EACH = 7
"""The plan is made anew every so many days, and whenever a day is near [d]."""


def live_on(here: Site, demo: Demo, until: date, each_day=lambda _now: None) -> datetime:
    """Live the demo on to a day, and give the last moment lived.

    Parameters
    ----------
    each_day : what else is done every day, such as the jobs of the clock
    """
    organiser, now = demo.settled.organiser, here.clock.at
    while now.date() < until:
        now += A_DAY
        here.clock.at = now
        _answer(here, demo, now)
        rows = _rows(here, organiser)
        open_ones = [one for one in rows if one.state is ParcelState.PLANNED]
        soon = any(
            one.posting_day and one.posting_day <= now.date() + 5 * A_DAY for one in open_ones
        )
        if open_ones and (soon or now.date().toordinal() % WEIGHED_EACH == 0):
            replan(organiser, now)
        each_day(now)
    return now


def _answer(here: Site, demo: Demo, now: datetime) -> None:
    today = now.date()
    for one in _rows(here, demo.settled.organiser):
        if one.state is ParcelState.ANNOUNCED and one.posting_day == today:
            if one.id % SILENT_SENDER:
                say_posted(_of(here, demo, one.sender_household_id), one.id, today, now)
        elif _came(one, today) and one.id % SILENT_RECEIVER:
            say_arrived(_of(here, demo, one.receiver_household_id), one.id, _how(one, today), now)


def _came(one: ParcelRow, today: date) -> bool:
    gone = one.state is ParcelState.POSTED or (
        one.state is ParcelState.ANNOUNCED
        and one.posting_day is not None
        and one.posting_day < today
    )
    return gone and one.arrival_to is not None and one.arrival_to == today


def _how(one: ParcelRow, today: date) -> Arrival:
    if one.id % LOST == 0:
        return Arrival(today, lost=True)
    return Arrival(today, Condition.DEAD if one.id % DEAD == 0 else Condition.WELL)


def _rows(here: Site, actor: Actor) -> tuple[ParcelRow, ...]:
    with here.house.books.reading() as tx:
        return PARCELS.all(tx, actor.circle_id)


def _of(here: Site, demo: Demo, household_id: int) -> Actor:
    circle_id = demo.settled.circle_id
    with here.house.books.reading() as tx:
        member = MEMBERS.all(tx, circle_id, household_id=household_id)[0]
    return Actor(here.house, circle_id, member.id, household_id, member.organiser)


def clock_of(here: Site, demo: Demo) -> Actor:
    return clock_actor(here.house, demo.settled.circle_id)
