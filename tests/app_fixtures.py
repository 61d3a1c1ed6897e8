"""Builders for tests of records, actions and pages: an installation, a circle, people signed in.

A site is an installation of its own: `with site(tmp_path) as here`. Give `database` for
PostgreSQL: `with fresh_database("postgresql", tmp_path) as address`.
"""

import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from secrets import token_hex, token_urlsafe
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import urlsplit

import pytest
from aiosmtpd.controller import Controller
from flask import Flask
from flask.testing import FlaskClient
from itsdangerous import URLSafeTimedSerializer
from sqlalchemy import create_engine, make_url, text
from werkzeug.test import TestResponse

from exchange.actions.circle.set_up import NewCircle, record_circle, upgrade_records
from exchange.actions.kernel.actor import Actor, House, member_actor
from exchange.actions.kernel.links import Purpose, look_at_link, make_link
from exchange.actions.kernel.services import open_house
from exchange.actions.people.joining import Joining, record_joining
from exchange.actions.people.members import NewMember, add_member, invite
from exchange.actions.people.towns import TownWanted, find_town
from exchange.app import create_app
from exchange.domain.circle.place import Place
from exchange.mail.sending import MailServer
from exchange.records import MEMBERS, PLACES, accounts
from exchange.records.rows.people import MemberRow
from exchange.records.tables import Account
from exchange.records.transaction import Books
from exchange.records.upgrade import upgrade
from exchange.settings import Settings
from tests.programs import postgresql

QUICK_HASHING = {
    "argon2__rounds": 1,
    "argon2__memory_cost": 8,
    "argon2__parallelism": 1,
}
NOW = datetime(2027, 4, 5, 9, 0, tzinfo=UTC)
PASSWORD = "four warm window sills"

both_databases = [
    pytest.param("sqlite"),
    pytest.param("postgresql", marks=pytest.mark.postgresql),
]
"""Parameters of a fixture that gives each kind of database in turn."""


class Clock:
    """The machine's clock, standing still until it is moved."""

    def __init__(self, at: datetime = NOW) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at


@dataclass
class Site:
    """An installation: its settings, house, clock and pages."""

    settings: Settings
    house: House
    clock: Clock
    app: Flask = field(repr=False)

    def now(self) -> datetime:
        return self.clock()


@contextmanager
def fresh_database(kind: str, folder: Path) -> Iterator[str]:
    """Give the address of an empty database, and drop it afterwards."""
    if kind == "sqlite":
        yield f"sqlite:///{folder / f'{token_hex(4)}.sqlite'}"
        return
    server = postgresql()
    name = f"exchange_{token_hex(6)}"
    _on_server(server, f"CREATE DATABASE {name}")
    try:
        address = make_url(server).set(database=name)
        yield address.render_as_string(hide_password=False)
    finally:
        _on_server(server, f"DROP DATABASE {name} WITH (FORCE)")


def _on_server(server: str, statement: str) -> None:
    engine = create_engine(server, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(statement))
    engine.dispose()


@cache
def _of_newest_shape() -> bytes:
    """Give an empty SQLite file that is upgraded, made once: the migrations take half a second."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "empty.sqlite"
        books = Books(f"sqlite:///{file}")
        upgrade(books)
        books.close()
        return file.read_bytes()


def _start_upgraded(settings: Settings) -> bool:
    """Put an upgraded file where a SQLite database is to be, unless there is one."""
    address = make_url(settings.database)
    if address.get_backend_name() != "sqlite" or (file := Path(address.database or "")).exists():
        return False
    file.write_bytes(_of_newest_shape())
    return True


@contextmanager
def a_house(folder: Path, database: str = "", **settings: Any) -> Iterator[House]:
    """Give a house with upgraded records, without pages."""
    wanted = Settings(data_folder=folder, database_url=database, **settings)
    upgraded = _start_upgraded(wanted)
    house = open_house(wanted, token_urlsafe)
    if not upgraded:
        upgrade(house.books)
    try:
        yield house
    finally:
        house.books.close()


@contextmanager
def site(
    folder: Path,
    database: str = "",
    wrap: Callable[[House], House] = lambda house: house,
    config: dict[str, Any] | None = None,
    **settings: Any,
) -> Iterator[Site]:
    """Give an installation with pages; `wrap` may change its house, `settings` its settings."""
    wanted = Settings(data_folder=folder, database_url=database, **settings)
    _start_upgraded(wanted)
    house = wrap(open_house(wanted, token_urlsafe))
    upgrade_records(house, NOW.date())
    clock = Clock()
    quick = {
        "TESTING": True,
        "SECURITY_PASSWORD_HASH_PASSLIB_OPTIONS": QUICK_HASHING,
        "RATELIMIT_ENABLED": False,
        **(config or {}),
    }
    app = create_app(wanted, house, clock, quick)
    try:
        yield Site(wanted, house, clock, app)
    finally:
        house.books.close()


class Keeper:
    """A mail server's box: what it accepted, and how often it says "not now" first."""

    def __init__(self) -> None:
        self.taken: list[Any] = []
        self.not_now = 0

    async def handle_DATA(self, _server: Any, _session: Any, envelope: Any) -> str:  # noqa: N802 - the library's name
        if self.not_now:
            self.not_now -= 1
            return "451 not now"
        self.taken.append(envelope)
        return "250 taken"


@contextmanager
def mail_server() -> Iterator[tuple[MailServer, Keeper]]:
    """Give a mail server on this machine, and the box of what it took."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    keeper = Keeper()
    controller = Controller(keeper, hostname="127.0.0.1", port=port)
    controller.start()
    try:
        yield MailServer("127.0.0.1", port), keeper
    finally:
        controller.stop()


@contextmanager
def site_with_mail(folder: Path) -> Iterator[tuple[Site, Keeper]]:
    """Give an installation that sends its letters to a mail server on this machine, and its box."""
    with (
        mail_server() as (post, box),
        site(
            folder,
            wrap=lambda house: replace(house, mail=post, mail_from="circle@example.org"),
            public_url="http://circle.example",
        ) as here,
    ):
        yield here, box


@dataclass
class Ring:
    """A circle and its people by first name."""

    circle_id: int
    people: dict[str, MemberRow]
    house: House

    def __getitem__(self, first_name: str) -> MemberRow:
        return self.people[first_name]

    def actor(self, first_name: str) -> Actor:
        return member_actor(self.house, self.circle_id, self.people[first_name].id)

    def place(self, first_name: str) -> Place:
        member = self.people[first_name]
        with self.house.books.reading() as tx:
            return PLACES.all(tx, self.circle_id, household_id=member.household_id)[0]


TOWNS = {
    "Winnie": "Ludlow, Shropshire",
    "Cuthbert": "Penzance, Cornwall",
    "Effie": "Inverness, Highland",
    "Odo": "Norwich, Norfolk",
}


def ring(
    house: House,
    name: str = "The Lowmoor Circle",
    members: tuple[str, ...] = ("Winnie", "Cuthbert", "Effie"),
    surname: str = "Pellow",
    now: datetime = NOW,
) -> Ring:
    """Make a circle; the first is its organiser, "Odo" has no account, all others have one.

    Everybody's e-mail address is first.surname@example.org in lower case.
    """
    with house.books.writing() as tx:
        circle_id = record_circle(tx, NewCircle(name), now)
    clock = Actor(house, circle_id, None, None)
    people: dict[str, MemberRow] = {}
    for first in members:
        town = find_town(TownWanted(TOWNS.get(first, "Ludlow, Shropshire")))
        if first == "Odo":
            member_id = add_member(clock, NewMember(first, surname, town=town), now)
        else:
            email = f"{first}.{surname}@example.org".lower()
            invited = invite(clock, NewMember(first, surname, email), now)
            member_id = invited.member.id
            _join(house, invited.link, Joining(first, town, surname), now)
        with house.books.writing() as tx:
            MEMBERS.change(tx, circle_id, member_id, organiser=not people)
            people[first] = MEMBERS.get(tx, circle_id, member_id)
    return Ring(circle_id, people, house)


def _join(house: House, link: str, joining: Joining, now: datetime) -> None:
    with house.books.writing() as tx:
        opened = look_at_link(tx, token_of(link), Purpose.INVITATION, lambda _circle: now)
        there = accounts.with_email(tx, opened.member.email or "")
        signed_in_as = there.id if there else None
        record_joining(tx, house, opened, replace(joining, signed_in_as=signed_in_as), now)


def token_of(link: str) -> str:
    """Give the secret at the end of a link."""
    return urlsplit(link).path.rpartition("/")[2]


def path_of(link: str) -> str:
    """Give the link without the address of the house."""
    return urlsplit(link).path


def link_for(here: Site, member: MemberRow, purpose: Purpose, subject_id: int | None = None) -> str:
    """Make a one-time link for a member, and give its path."""
    with here.house.books.writing() as tx:
        return path_of(make_link(tx, here.house, member, purpose, here.now(), subject_id))


class Visitor:
    """Somebody at the pages, signed in or not; posts carry the token against forgery."""

    def __init__(self, here: Site, member: MemberRow | None = None) -> None:
        self.here = here
        self.client: FlaskClient = here.app.test_client()
        if member is not None:
            self._sign_in(member)

    def get(self, path: str, **kwargs: Any) -> TestResponse:
        return self.client.get(path, **kwargs)

    def post(self, path: str, data: dict[str, Any] | None = None, **kwargs: Any) -> TestResponse:
        return self.client.post(path, data={**(data or {}), "csrf_token": self.token()}, **kwargs)

    def token(self) -> str:
        """Give a token against forgery that fits this visitor's session."""
        with self.client.session_transaction() as session:
            raw = session.setdefault("csrf_token", token_hex(20))
        signer = URLSafeTimedSerializer(self.here.app.secret_key, salt="wtf-csrf-token")
        return str(signer.dumps(raw))

    def _sign_in(self, member: MemberRow) -> None:
        with self.here.house.books.reading() as tx:
            uniquifier = tx._session.get_one(Account, member.account_id).fs_uniquifier
        with self.client.session_transaction() as session:
            session["_user_id"] = uniquifier
            session["_fresh"] = True
            session["fs_cc"] = "set"
            session["fs_paa"] = time.time()
            session["circle_id"] = member.circle_id


def a_day(day: int, month: int = 4) -> date:
    return date(2027, month, day)
