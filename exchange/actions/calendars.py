"""Calendars: secret addresses, and what is served at them."""

from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlsplit

from exchange.actions.actor import Actor, House, circle_now, today_in
from exchange.actions.diary import entry_of
from exchange.calendars.entry import CalendarFacts
from exchange.calendars.ical import ServedCalendar, served
from exchange.domain.permissions import Permission
from exchange.records import (
    CALENDARS,
    DIARY,
    MEMBERS,
    NotHereError,
    Tx,
    calendar_addresses,
    circles,
)
from exchange.records.links import hash_of
from exchange.records.values import CalendarAddress, Circle
from exchange.words.phrase import _

KINDS = ("member", "dispatch")


@dataclass(frozen=True, slots=True)
class CalendarsPage:
    """The calendars a member has put somewhere.

    Attributes
    ----------
    addresses : those in use, newest last
    """

    addresses: tuple[CalendarAddress, ...]


def calendars_page(actor: Actor) -> CalendarsPage:
    """Show the member's calendars in use; the addresses themselves are not kept."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        own = CALENDARS.all(tx, actor.circle_id, member_id=_member(actor), revoked_at=None)
    return CalendarsPage(own)


def new_address(actor: Actor, kind: str, now: datetime, *, reminders: bool = True) -> str:
    """Make a calendar's secret address, once shown and never again; an older one stops working.

    Returns
    -------
    the address
    """
    actor.must(Permission.SEE_CIRCLE)
    if kind not in KINDS:
        raise NotHereError(f"there is no calendar {kind}")
    token = actor.house.new_token()
    with actor.books.writing() as tx:
        for old in CALENDARS.all(
            tx, actor.circle_id, member_id=_member(actor), kind=kind, revoked_at=None
        ):
            CALENDARS.change(tx, actor.circle_id, old.id, revoked_at=now)
        CALENDARS.add(
            tx,
            actor.circle_id,
            member_id=_member(actor),
            kind=kind,
            sha256=hash_of(token),
            made_at=now,
            changed_at=now,
            reminders=reminders,
        )
    return f"{actor.house.public_url}/cal/{token}/{kind}.ics"


def revoke_address(actor: Actor, address_id: int, now: datetime) -> None:
    """Let a calendar's address stop working."""
    with actor.books.writing() as tx:
        address = CALENDARS.get(tx, actor.circle_id, address_id)
        if address.member_id != _member(actor):
            raise NotHereError("that calendar is not yours")
        CALENDARS.change(tx, actor.circle_id, address_id, revoked_at=now)


def calendar_at(house: House, token: str, machine_now: datetime) -> ServedCalendar | None:
    """Give what is served at a secret address, or None where there is no such calendar."""
    with house.books.reading() as tx:
        address = calendar_addresses.with_token(tx, token)
        if address is None or address.revoked_at is not None:
            return None
        member = MEMBERS.get(tx, address.circle_id, address.member_id)
        if member.left_at is not None:
            return None
        circle = circles.get(tx, address.circle_id)
        now = circle_now(circle, machine_now)
        return served(_facts(tx, house, circle, address, now))


def note_fetch(house: House, token: str, by: str, machine_now: datetime) -> None:
    """Write down when a calendar was last fetched, and by what kind of program."""
    with house.books.writing() as tx:
        address = calendar_addresses.with_token(tx, token)
        if address is not None:
            calendar_addresses.note_fetch(tx, address.id, by, machine_now)


def household_calendar(actor: Actor, household_id: int | None, now: datetime) -> ServedCalendar:
    """Give a household's calendar, or the circle's dispatch calendar, without an address."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        circle = circles.get(tx, actor.circle_id)
        return served(_of_household(tx, actor.house, circle, household_id, now))


def _member(actor: Actor) -> int:
    member_id = actor.acting_for or actor.member_id
    if member_id is None:
        raise NotHereError("the clock has no calendar")
    return member_id


def _facts(
    tx: Tx, house: House, circle: Circle, address: CalendarAddress, now: datetime
) -> CalendarFacts:
    member = MEMBERS.get(tx, circle.id, address.member_id)
    household_id = member.household_id if address.kind == "member" else None
    facts = _of_household(tx, house, circle, household_id, now)
    return CalendarFacts(
        facts.name,
        facts.description,
        facts.entries,
        max(facts.changed_at, address.changed_at),
        facts.today,
        facts.uid_host,
        address.reminders,
        facts.page_url,
    )


def _of_household(
    tx: Tx, house: House, circle: Circle, household_id: int | None, now: datetime
) -> CalendarFacts:
    rows = DIARY.all(tx, circle.id, household_id=household_id)
    changed = max((row.content_changed_at for row in rows), default=circle.created_at)
    name = circle.name if household_id else _("{circle}: dispatch").format(circle=circle.name)
    return CalendarFacts(
        name=name,
        description=_("Posting days, arrivals and care, as they now stand."),
        entries=tuple(entry_of(row) for row in rows),
        changed_at=changed,
        today=today_in(circle, now),
        uid_host=urlsplit(house.public_url).hostname or "circle.invalid",
        page_url=f"{house.public_url}/calendars",
    )
