"""Building a kept circle: the demo, its closing day, two months of days, a second and smaller circle."""

import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any

from aiosmtpd.controller import Controller

from exchange.actions.circle.terms import set_term
from exchange.actions.demo.build import build_demo, do_main_job
from exchange.actions.demo.sign_in_links import demo_links
from exchange.actions.kernel.actor import Actor, member_actor
from exchange.actions.kernel.tasks import cancel_task
from exchange.actions.kernel.terms_table import term
from exchange.actions.people.acting_for import begin_acting
from exchange.actions.people.away import NewAway, go_away
from exchange.actions.people.members import NewMember, invite
from exchange.actions.people.own_account import ask_for_address
from exchange.actions.people.places import places_of
from exchange.actions.people.towns import TownWanted, find_town
from exchange.actions.posting.calendars import CalendarKind, calendar_at, new_address, set_reminders
from exchange.actions.posting.closures import Area, areas_of, close_day, open_holiday
from exchange.actions.posting.route import go_through
from exchange.actions.sharing.claims import NewClaim, claim, withdraw_claim
from exchange.actions.sharing.explanation import ask_why
from exchange.actions.sharing.scenarios import ask_for_other_terms
from exchange.actions.sharing.share_out import NewShareOut, open_share_out, work_out_share_out
from exchange.actions.sharing.share_out_choices import ChoiceRefusedError, NewChoice, choose
from exchange.actions.sharing.spares import list_spare
from exchange.actions.weather.forecast_verification import keep_shift
from exchange.actions.weather.frost_notes import note_frost
from exchange.actions.weather.own_daily_file import keep_file, look_over
from exchange.domain.optimise.programme import never_stop
from exchange.mail.sending import MailServer
from exchange.paths import DEMO_DATA
from exchange.records import ANSWERS, MEMBERS, VARIETIES, WAYS, Tx, circles, tasks
from tests.app_fixtures import PASSWORD, Site, Visitor, site
from tests.builders.season import a_season, a_spare, tell_weather
from tests.builders.tasks import asked_for
from tests.records.kept_circles.two_months import DAYS, Life, live

REFUSED_BY_MAIL = "550 there is no such box"


@dataclass
class Made:
    """A circle that was built, and the secrets of it that tests use.

    Attributes
    ----------
    secrets : invented ones, by what they are for
    """

    here: Site
    circle_id: int
    organiser: Actor
    secrets: dict[str, str]


class Secrets:
    """Invented secrets, the same each time, kept in the order they were asked for."""

    def __init__(self) -> None:
        self.given: list[str] = []

    def __call__(self) -> str:
        self.given.append(sha256(f"kept {len(self.given)}".encode()).hexdigest())
        return self.given[-1]


class _Box:
    """A mail server that refuses one address."""

    async def handle_RCPT(self, _server, _session, envelope, address, _options):  # noqa: N802 - the library's name
        if address.startswith("jo"):
            return REFUSED_BY_MAIL
        envelope.rcpt_tos.append(address)
        return "250 taken"

    async def handle_DATA(self, _server, _session, _envelope):  # noqa: N802 - the library's name
        return "250 taken"


@contextmanager
def _mail() -> Iterator[MailServer]:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    controller = Controller(_Box(), hostname="127.0.0.1", port=port)
    controller.start()
    try:
        yield MailServer("127.0.0.1", port)
    finally:
        controller.stop()


@contextmanager
def built(folder: Path, database: str = "") -> Iterator[Made]:
    """Give the circle after its two months, its database still open; a file where none is named."""
    secrets = Secrets()
    forecast = DEMO_DATA / "forecast.json"
    with (
        _mail() as mail,
        site(
            folder,
            database,
            wrap=lambda house: replace(house, new_token=secrets, mail_from="circle@example.org"),
            public_url="http://circle.example",
            forecast_source="saved",
            forecast_file=forecast,
        ) as here,
    ):
        demo = build_demo(here.house)
        here.clock.at = demo.data.now
        do_main_job(demo)
        organiser = demo.settled.organiser
        made = Made(here, organiser.circle_id, organiser, {})
        _first_day(made, demo, demo.data.now)
        _smaller_circle(made, demo.data.now)
        life = Life(
            here.house, organiser.circle_id, organiser, here.clock, mail, folder, _extras(made)
        )
        live(life, demo.data.now.date())
        made.secrets["password salt"] = (folder / "secrets" / "password_salt").read_text()
        yield made


def _first_day(made: Made, demo: Any, now: datetime) -> None:
    """Let the organiser and a member do what the demo leaves out."""
    organiser, house = made.organiser, made.here.house
    for index, (_who, link) in enumerate(demo_links(demo, now)):
        made.secrets[f"sign in {index}"] = _end(link)
    with house.books.reading() as tx:
        people = MEMBERS.all(tx, made.circle_id, left_at=None)
        ways = [one for one in WAYS.all(tx, made.circle_id) if one.carriage == "post"]
    _set_password(made, next(one for one in people if one.id == organiser.member_id))
    others = [one for one in people if one.account_id and one.id != organiser.member_id]
    for kind, actor, name in (
        (CalendarKind.DISPATCH, organiser, "dispatch calendar"),
        (CalendarKind.MEMBER, organiser, "organiser's calendar"),
        (CalendarKind.MEMBER, member_actor(house, made.circle_id, others[0].id), "calendar"),
        (CalendarKind.MEMBER, member_actor(house, made.circle_id, others[0].id), "calendar"),
    ):
        made.secrets[name] = new_address(actor, kind, now).address.split("/")[-2]
    calendar_at(house, made.secrets["dispatch calendar"], "Calendar 1.0", now)
    set_reminders(organiser, CalendarKind.MEMBER, now, on=False)
    town = find_town(TownWanted("Penrith, Cumbria"))
    go_through(organiser, ways[0].id, town, now)
    (area, *_more) = areas_of(organiser)
    close_day(organiser, area.key, now.date() + timedelta(days=9), "The post is on strike", now)
    open_holiday(organiser, Area("GB", "ENG").key, date(2027, 5, 3), now)
    acting = begin_acting(organiser, others[1].id, now)
    go_away(acting, NewAway(now.date() + timedelta(30), now.date() + timedelta(36)), now)
    place = places_of(organiser)[0]
    note_frost(organiser, place.id, now.date() + timedelta(days=2), -3.0, now)
    _own_file(organiser, place.id, now)
    _why(made, now)


def _own_file(actor: Actor, place_id: int, now: datetime) -> None:
    """Bring a daily file of a month and keep it; set another by."""
    for month, kept in ((2, True), (3, False)):
        lines = [f"2027-{month:02}-{day:02},{day % 9 - 4}.5,{8 + day % 5}" for day in range(1, 29)]
        content = "\n".join(["date,tmin_c,tmax_c", *lines]).encode()
        file_id = look_over(actor, place_id, f"garden-{month}.csv", content, now)
        if kept:
            keep_file(actor, file_id, now)


def _why(made: Made, now: datetime) -> None:
    """Ask why the first unmet claims came out so."""
    with made.here.house.books.reading() as tx:
        unmet = [one for one in ANSWERS.all(tx, made.circle_id) if one.given == 0]
    for one in unmet[:2]:
        ask_why(made.organiser, one.claim_id, now)


def _set_password(made: Made, member: Any) -> None:
    answer = Visitor(made.here, member).post(
        "/my-password", {"new_password": PASSWORD, "new_password_confirm": PASSWORD}
    )
    assert answer.status_code == 302, answer.text
    made.secrets["password"], made.secrets["email"] = PASSWORD, member.email or ""


def _smaller_circle(made: Made, now: datetime) -> None:
    """Set a second circle up in the same database, and join the organiser to it with the same account."""
    season = a_season(made.here.house, now=now)
    tell_weather(season, now)
    season.plan(now)
    with made.here.house.books.writing() as tx:
        circles.change(tx, season.circle_id, fixed_today=now.date())
        first = MEMBERS.get(tx, made.circle_id, made.organiser.member_id or 0)
    invited = invite(season.organiser, NewMember(first.first_name, email=first.email or ""), now)
    with made.here.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, invited.member.id, account_id=first.account_id)
    late = invite(season.organiser, NewMember("Hester", email="hester@example.org"), now)
    made.secrets["invitation"] = _end(late.link)


def _extras(made: Made) -> dict[int, Callable[[Life, datetime], None]]:
    return {
        1: _terms,
        5: _failed_and_cancelled,
        40: _second_share_out,
        DAYS - 2: _learned,
        DAYS - 1: lambda life, now: _last_day(made, life, now),
    }


def _terms(life: Life, now: datetime) -> None:
    set_term(life.organiser, term("green_quick"), frozenset({0, 1, 2}), now)


def _failed_and_cancelled(life: Life, now: datetime) -> None:
    asked_for(life.organiser, "share_out", 1, now)
    cancel_task(life.organiser, asked_for(life.organiser, "forecasts", None, now), now)


def _second_share_out(life: Life, now: datetime) -> None:
    """Open a second share-out, and work it out with a choice of the organiser's; it is not confirmed."""
    with life.house.books.reading() as tx:
        people = [one for one in MEMBERS.all(tx, life.circle_id, left_at=None) if one.account_id]
        varieties = VARIETIES.all(tx, life.circle_id)[:3]
    share_out_id = open_share_out(
        life.organiser, NewShareOut("Late plants", now.date() + timedelta(days=20), "90125"), now
    )
    others = [
        life.actor(one.id) for one in people if one.household_id != life.organiser.household_id
    ]
    spares = [list_spare(life.organiser, a_spare(one.id, 2, now), now) for one in varieties]
    claims = [claim(actor, NewClaim(one.id, 1), now) for one in varieties for actor in others[:3]]
    withdraw_claim(others[2], claims[2], now)
    work_out_share_out(life.organiser, share_out_id, never_stop, now)
    for pair in ((spare, wish) for spare in spares for wish in claims[3:]):
        with suppress(ChoiceRefusedError):
            new = NewChoice(*pair, 1, "Her last one was lost on the way.")
            choose(life.organiser, share_out_id, new, now)
            break
    ask_for_other_terms(life.organiser, share_out_id, now)


def _learned(life: Life, now: datetime) -> None:
    keep_shift(life.organiser, places_of(life.organiser)[0].id, now)


def _last_day(made: Made, life: Life, now: datetime) -> None:
    """Leave a member's new address waiting for its link."""
    with life.house.books.reading() as tx:
        people = [one for one in MEMBERS.all(tx, life.circle_id, left_at=None) if one.account_id]
    member = people[-1]
    ask_for_address(life.actor(member.id), "another.address@example.org", now)
    made.secrets["new address"] = life.house.new_token.given[-1]  # type: ignore[attr-defined]


def leave_tasks(made: Made) -> None:
    """Leave one task in a worker's hands and one waiting, as a stopped machine does."""
    now = made.here.clock()
    asked_for(made.organiser, "plan", None, now)
    with made.here.house.books.writing() as tx:
        _claimed(tx, now)
    asked_for(made.organiser, "forecasts", None, now)


def _claimed(tx: Tx, now: datetime) -> None:
    assert tasks.claim(tx, now) is not None


def _end(link: str) -> str:
    return link.rpartition("/")[2]
