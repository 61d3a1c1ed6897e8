"""Two months in the life of the demo circle: each day's jobs, and what its members answer."""

import json
import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from exchange.actions.home.answer_by_link import (
    CanGo,
    NotGone,
    PressedLink,
    Said,
    Went,
    answer_by_link,
)
from exchange.actions.kernel.actor import Actor, House, member_actor
from exchange.actions.kernel.letters import hand_over, letters_by_hand
from exchange.actions.kernel.links import LinkGoneError, Opened, Purpose, open_link
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.places import places_of
from exchange.actions.posting.parcels import Arrival, Condition
from exchange.actions.sharing.allocation_answers import decline
from exchange.actions.sharing.sender_answer import SenderAnswer, to_answer
from exchange.actions.weather.observations import observe
from exchange.domain.posting.parcel import ParcelState
from exchange.jobs.round import go_round
from exchange.jobs.table import JOBS, HouseJob
from exchange.mail.sending import MailServer
from exchange.paths import DEMO_DATA
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    LETTERS,
    MEMBERS,
    PARCEL_LINES,
    PARCELS,
    circles,
    forecasts_kept,
)
from tests.app_fixtures import Clock

LONDON = ZoneInfo("Europe/London")
FETCH_EVERY, MAIL_FROM, DAYS = 7, 20, 61
"""Days between two fetches, the day on which mail begins, and days in all [d]."""
HOURS = (time(6, 30), time(9, 5), time(14, 5), time(18, 10))
"""When the round is made: after a fetch, for questions, for frost, for the evening's letters."""
LINK = re.compile(r"/answer/([a-z-]+)/([0-9a-f]{64})")


class Round:
    """What the queue remembers of jobs done."""

    def __init__(self) -> None:
        self.kept: dict[str, str] = {}

    def was_done(self, key: str, hour: str) -> bool:
        return self.kept.get(key) == hour

    def mark_done(self, key: str, hour: str) -> None:
        self.kept[key] = hour


@dataclass
class Life:
    """The circle while its days go by.

    Attributes
    ----------
    mail : the server letters go to, once there is one
    folder : where each fetch's forecast lies
    extra : further acts, by the number of the day
    """

    house: House
    circle_id: int
    organiser: Actor
    clock: Clock
    mail: MailServer
    folder: Path
    extra: dict[int, Callable[["Life", datetime], None]]

    def actor(self, member_id: int) -> Actor:
        return member_actor(self.house, self.circle_id, member_id)


def live(life: Life, first: date) -> None:
    """Let the days go by, one after the other."""
    memory = Round()
    for number in range(DAYS):
        day = first + timedelta(days=number)
        with life.house.books.writing() as tx:
            for circle in circles.everyone(tx):
                circles.change(tx, circle.id, fixed_today=day)
        mail = life.mail if number >= MAIL_FROM else None
        services = replace(
            life.house.forecasts, order=(), saved_file=_forecast(life, first, number)
        )
        life.house = replace(life.house, mail=mail, forecasts=services)
        for hour in HOURS if number % FETCH_EVERY == 0 else HOURS[1:]:
            life.clock.at = datetime.combine(day, hour, LONDON).astimezone(UTC)
            go_round(life.house, life.clock, memory.was_done, memory.mark_done)
            if hour == HOURS[1]:
                _members_act(life, number, life.clock.at)
                _do("tasks", life)
                _do("letters", life)
        print(day, end=" ", flush=True)


def _do(name: str, life: Life) -> None:
    job = JOBS[name]
    assert isinstance(job, HouseJob)
    job.act(life.house, life.clock)


def _forecast(life: Life, first: date, number: int) -> str:
    """Give the demo's forecast moved to the day, every few days; once the file is missing."""
    if number % FETCH_EVERY:
        return ""
    path = life.folder / f"forecast-{number}.json"
    if number != 3 * FETCH_EVERY:
        places = json.loads((DEMO_DATA / "forecast.json").read_text(encoding="utf-8"))
        for place in places:
            times = [datetime.fromisoformat(one) for one in place["hourly"]["time"]]
            moved = [one + timedelta(days=number) for one in times]
            place["hourly"]["time"] = [one.strftime("%Y-%m-%dT%H:%M") for one in moved]
        path.write_text(json.dumps(places), encoding="utf-8")
    return str(path)


def _members_act(life: Life, number: int, now: datetime) -> None:
    _night_read(life, number, now)
    for opened in list(_links(life, now)):
        with suppress(LinkGoneError, RefusedError):
            _follow(life, opened, now)
    if number in (2, 9, 16):
        _decline_one(life, now)
    for one in letters_by_hand(life.organiser)[:6]:
        hand_over(life.organiser, one.letter.id, now)
    if number in life.extra:
        life.extra[number](life, now)


def _night_read(life: Life, number: int, now: datetime) -> None:
    """Read the thermometer at the organiser's own place: a little colder than the forecast said."""
    place = places_of(life.organiser)[0]
    today = now.astimezone(LONDON).date()
    evening = datetime.combine(today - timedelta(days=1), time(18), LONDON)
    with life.house.books.reading() as tx:
        forecast = forecasts_kept.latest(tx, life.circle_id, {place.id})[place.id]
    night = [one.temperature_c for one in forecast.readings if evening <= one.at <= now]
    minimum = min(night, default=4.0) - 1.5 + 0.3 * (number % 3)
    observe(life.organiser, place.id, today, round(minimum, 1), now)


def _links(life: Life, now: datetime) -> Iterator[Opened]:
    """Give the links of the letters that ask something and were not answered yet."""
    with life.house.books.reading() as tx:
        asking = LETTERS.all(
            tx, life.circle_id, kind={"share_out", "did_it_go", "did_it_come", "still_ready"}
        )
    for letter in asking:
        found = LINK.search(letter.body)
        # Some never answer.
        if found is None or letter.id % 9 == 4:
            continue
        with suppress(LinkGoneError):
            purpose = Purpose(found[1].replace("-", "_"))
            yield open_link(life.house, found[2], purpose, lambda _circle: now)


def _follow(life: Life, opened: Opened, now: datetime) -> None:
    said = {
        Purpose.DID_IT_GO: _gone,
        Purpose.DID_IT_COME: _come,
        Purpose.SENDER_ANSWER: _ready,
    }[opened.purpose](opened.actor(life.house), opened.subject_id or 0, now)
    answer_by_link(life.house, PressedLink(opened.token, opened.purpose), said, now)


def _gone(actor: Actor, parcel_id: int, now: datetime) -> Said:
    with actor.books.reading() as tx:
        parcel = PARCELS.get(tx, actor.circle_id, parcel_id)
    if (
        parcel_id % 6 == 5
        and parcel.announced_day
        and now.date() - parcel.announced_day < timedelta(2)
    ):
        return NotGone()
    return Went(parcel.announced_day or now.date())


def _come(actor: Actor, parcel_id: int, now: datetime) -> Said:
    with actor.books.reading() as tx:
        parcel = PARCELS.get(tx, actor.circle_id, parcel_id)
        lines = PARCEL_LINES.all(tx, actor.circle_id, parcel_id=parcel_id)
    day = parcel.arrival_to or now.date()
    arrival = Arrival(day)
    if parcel_id % 11 == 3:
        arrival = Arrival(day, lost=True)
    elif parcel_id % 7 == 2:
        conditions = [one for one in Condition if one is not Condition.WELL]
        condition = conditions[parcel_id % len(conditions)]
        arrival = Arrival(day, condition, alive={lines[0].allocation_id: 0})
    return arrival


def _ready(actor: Actor, parcel_id: int, now: datetime) -> Said:
    answers = []
    for one in to_answer(actor, parcel_id):
        match one.allocation_id % 13:
            case 4:
                answers.append(SenderAnswer(one.allocation_id, 0))
            case 7:
                later = min(now.date() + timedelta(days=9), one.send_by)
                answers.append(SenderAnswer(one.allocation_id, one.count, later))
            case 8 | 9:
                answers.append(SenderAnswer(one.allocation_id, max(one.count - 1, 1)))
            case _:
                answers.append(SenderAnswer(one.allocation_id, one.count))
    return CanGo(tuple(answers))


def _decline_one(life: Life, now: datetime) -> None:
    """Let somebody decline plants that are not on their way."""
    with life.house.books.reading() as tx:
        planned = {one.id for one in PARCELS.all(tx, life.circle_id, state={ParcelState.PLANNED})}
        lines = [one for one in PARCEL_LINES.all(tx, life.circle_id) if one.parcel_id in planned]
        if not lines:
            return
        allocation = ALLOCATIONS.get(tx, life.circle_id, lines[0].allocation_id)
        claim = CLAIMS.get(tx, life.circle_id, allocation.claim_id)
        (member, *_rest) = MEMBERS.all(tx, life.circle_id, household_id=claim.household_id)
    decline(life.actor(member.id), allocation.id, now)
