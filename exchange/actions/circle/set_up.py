"""Setting up: the database's shape, the first circle, its organiser's sign-in link."""

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from exchange.actions.kernel.actor import Actor, House, clock_actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import Invited, NewMember, clean_name, record_invitation
from exchange.records import MEMBERS, DatabaseUnreachableError, Tx, circles, upgrade
from exchange.records.copies import CopyFailedError
from exchange.records.rows.circle import CircleRow
from exchange.reference.gazetteer import countries
from exchange.words.kernel.phrase import listed

MOST_MEMBERS = 500


class CircleRefusedError(RefusedError):
    """The circle cannot be set up like this."""


class RecordsAwayError(RefusedError):
    """The records cannot be opened."""


class NoCopyError(RefusedError):
    """No copy of the records can be written, so they are left as they are."""


@dataclass(frozen=True, slots=True)
class NewCircle:
    """A circle to be set up.

    Attributes
    ----------
    country : ISO 3166-1 alpha-2 code
    zone : IANA name of the time zone its days are counted in
    about_how_many : about how many members it will have
    """

    name: str
    country: str = "GB"
    zone: str = "Europe/London"
    about_how_many: int = 15


def reach_records(house: House) -> None:
    """Open the records once, so that an unreachable database is reported in a sentence."""
    try:
        house.books.reach()
    except DatabaseUnreachableError as away:
        raise RecordsAwayError(
            f"The database cannot be opened; database_url says where it is. It answered: {away}"
        ) from away


@dataclass(frozen=True, slots=True)
class Upgraded:
    """What came of an upgrade.

    Attributes
    ----------
    copy : the copy made of a SQLite file before, None where nothing was to be done, or on PostgreSQL
    """

    newest: str
    copy: Path | None


def upgrade_records(house: House, today: date) -> Upgraded:
    """Bring the database to the newest shape; a SQLite file is copied beside itself before.

    Parameters
    ----------
    today : the machine's day, in the copy's name

    Raises
    ------
    NoCopyError
        When no copy can be written; nothing is changed.
    """
    try:
        copy = upgrade.upgrade(house.books, today=today)
    except CopyFailedError as error:
        raise NoCopyError(
            "Before the records are brought up to date they are copied, and no copy can be"
            f" written beside them: {error}. Nothing was changed."
        ) from error
    return Upgraded(upgrade.newest(), copy)


@dataclass(frozen=True, slots=True)
class RecordsFound:
    """What is wrong with the records; all empty when nothing is."""

    revision: str | None
    newest: str
    differences: tuple[str, ...]

    @property
    def sound(self) -> bool:
        return self.revision == self.newest and not self.differences


def check_records(house: House) -> RecordsFound:
    """Compare the database with the shape it should have."""
    return RecordsFound(
        upgrade.revision(house.books),
        upgrade.newest(),
        tuple(upgrade.differences(house.books)),
    )


def set_up(house: House, new: NewCircle, organiser: NewMember, now: datetime) -> Invited:
    """Keep a new circle and invite its organiser; neither where either is refused."""
    with house.books.writing() as tx:
        circle_id = record_circle(tx, new, now)
        return record_organiser(tx, clock_actor(house, circle_id), organiser, now)


def record_circle(tx: Tx, new: NewCircle, now: datetime) -> int:
    """Keep a new circle, in which nobody is yet, within an act."""
    name = clean_name(new.name)
    try:
        ZoneInfo(new.zone)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise CircleRefusedError(
            f"There is no time zone “{new.zone}”; one is Europe/London.", "zone"
        ) from error
    if len(new.country) != 2 or not new.country.isalpha():
        raise CircleRefusedError("Write the country with two letters, such as GB.", "country")
    if new.country.upper() not in countries():
        raise CircleRefusedError(
            f"Towns are known only in {listed(countries())}; members there could not say where they grow.",
            "country",
        )
    if not 1 <= new.about_how_many <= MOST_MEMBERS:
        raise CircleRefusedError("Write about how many members, from 1 to 500.", "members")
    if circles.named(tx, name) is not None:
        raise CircleRefusedError(f"There is a circle called {name} here already.", "name")
    return circles.add(
        tx,
        name=name,
        country=new.country.upper(),
        zone=new.zone,
        about_how_many=new.about_how_many,
        created_at=now,
    )


def record_organiser(tx: Tx, actor: Actor, new: NewMember, now: datetime) -> Invited:
    """Invite the organiser of a circle, within an act."""
    invited = record_invitation(tx, actor, new, now)
    MEMBERS.change(tx, actor.circle_id, invited.member.id, organiser=True)
    return invited


def every_circle(house: House) -> tuple[CircleRow, ...]:
    """Give the circles of the installation."""
    with house.books.reading() as tx:
        return circles.everyone(tx)
