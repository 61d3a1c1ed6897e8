"""Who acts, and in which installation: the first argument of every action."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

from exchange.domain.permissions import Permission, Person, Subject, may
from exchange.forecasts.services import ForecastServices
from exchange.mail.sending import MailServer
from exchange.records import DEEDS, MEMBERS, Books, Tx, circles
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.people import MemberRow

NAMES_HELPER = "names"
"""What somebody helps with who mends the names of varieties."""


class NotAllowedError(PermissionError):
    """The actor may not do this."""


def asleep() -> None:
    """Wake nobody: the worker looks for tasks once a minute anyway."""


@dataclass(frozen=True)
class House:
    """What an installation gives its actions; made at the door.

    Attributes
    ----------
    new_token : gives a fresh secret of 256 bits each time it is called
    mail : the server letters are handed to, or None where letters are only copied as text
    forecasts : the forecast services asked, in order
    mail_from : the address letters come from
    wake : tells the worker that a task is waiting
    fixed_today : the day all circles stand on, for trying things out, or None
    folder : the data folder, or None where nothing but the records is kept
    backups_kept : how many daily backups are kept in it
    """

    books: Books
    public_url: str
    new_token: Callable[[], str]
    mail: MailServer | None
    forecasts: ForecastServices
    paper: str = "A4"
    mail_from: str = ""
    wake: Callable[[], None] = asleep
    fixed_today: date | None = None
    folder: Path | None = None
    backups_kept: int = 0


@dataclass(frozen=True)
class Actor:
    """A member or the clock, acting in one circle, perhaps for another member.

    Attributes
    ----------
    member_id : who acts, None for the clock
    household_id : whose things are acted upon: one's own, or the household of the member acted for
    acting_for : the member acted for, or None
    helper : what the member helps the organiser with; empty for nothing
    """

    house: House
    circle_id: int
    member_id: int | None
    household_id: int | None
    organiser: bool = False
    acting_for: int | None = None
    helper: str = ""

    @property
    def books(self) -> Books:
        return self.house.books

    @property
    def clock(self) -> bool:
        return self.member_id is None

    @property
    def person(self) -> Person:
        return Person(
            self.member_id,
            self.household_id,
            self.organiser,
            self.clock,
            names_helper=self.helper == NAMES_HELPER,
        )

    def must(self, permission: Permission, subject: Subject | None = None) -> None:
        """Raise unless the actor may."""
        if not may(self.person, permission, subject):
            raise NotAllowedError(f"You may not {permission.value}.")

    def for_member(self, member_id: int, household_id: int) -> "Actor":
        """Give the same actor acting for a member of the circle."""
        return replace(self, acting_for=member_id, household_id=household_id)

    def own_household(self) -> int:
        """Give the household acted for; the clock has none."""
        if self.household_id is None:
            raise NotAllowedError("Only a member can do this.")
        return self.household_id


def member_actor(house: House, circle_id: int, member_id: int) -> Actor:
    """Make the actor for a member of a circle."""
    with house.books.reading() as tx:
        member = MEMBERS.get(tx, circle_id, member_id)
    return actor_of(house, member)


def actor_of(house: House, member: MemberRow) -> Actor:
    """Make the actor for a member as read."""
    return Actor(
        house,
        member.circle_id,
        member.id,
        member.household_id,
        member.organiser,
        helper=member.helper,
    )


def clock_actor(house: House, circle_id: int) -> Actor:
    """Make the actor for what happens automatically."""
    return Actor(house, circle_id, None, None)


def note(tx: Tx, actor: Actor, act: str, what: str, now: datetime) -> None:
    """Write down who did what, and for whom."""
    DEEDS.add(
        tx,
        actor.circle_id,
        actor_id=actor.member_id,
        for_member_id=actor.acting_for,
        act=act,
        what=what[:500],
        done_at=now,
    )


def circle_now(circle: CircleRow, machine_now: datetime) -> datetime:
    """Give the circle's own now: the machine's, or the same time of day on the circle's fixed date."""
    if circle.fixed_today is None:
        return machine_now
    zone = ZoneInfo(circle.zone)
    of_day: time = machine_now.astimezone(zone).time()
    return datetime.combine(circle.fixed_today, of_day, zone).astimezone(machine_now.tzinfo)


def now_of(house: House, circle: CircleRow, machine_now: datetime) -> datetime:
    """Give a circle's own now; the house's fixed day stands for circles without one."""
    fixed = circle.fixed_today or house.fixed_today
    return circle_now(replace(circle, fixed_today=fixed), machine_now)


def today_in(circle: CircleRow, now: datetime) -> date:
    """Give the circle's date at an instant."""
    return now.astimezone(ZoneInfo(circle.zone)).date()


def circle_of(actor: Actor, tx: Tx) -> CircleRow:
    """Give the actor's circle."""
    return circles.get(tx, actor.circle_id)
