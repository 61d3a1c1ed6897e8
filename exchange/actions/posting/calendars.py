"""Calendars: secret addresses, and what is served at them."""

from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, House, NotAllowedError, note, now_of, today_in
from exchange.actions.posting.diary import entry_of
from exchange.calendars.entry import CalendarFacts
from exchange.calendars.ical import ServedCalendar, served
from exchange.domain.permissions import Permission
from exchange.records import (
    CALENDARS,
    DIARY,
    MEMBERS,
    DatabaseBusyError,
    NotHereError,
    Tx,
    calendar_addresses,
    circles,
)
from exchange.records.links import hash_of
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.people import MemberRow
from exchange.records.rows.posting import DiaryRow
from exchange.records.rows.running import CalendarAddressRow

NOTE_EVERY = timedelta(minutes=10)
"""How often at most a fetch is written down (judgement)."""
NEXT_SHOWN = 8


class CalendarKind(StrEnum):
    """Whose dates a calendar holds: a household's, or every parcel of the circle."""

    MEMBER = "member"
    DISPATCH = "dispatch"


@dataclass(frozen=True, slots=True)
class CalendarLine:
    """One calendar the reader may have.

    Attributes
    ----------
    address : its address in use, or None; the secret itself is not kept
    """

    kind: CalendarKind
    name: str
    address: CalendarAddressRow | None


@dataclass(frozen=True, slots=True)
class CalendarsPage:
    """The calendars a member may put somewhere, and the household's next dates.

    Attributes
    ----------
    address : the one just made, on the only page that ever shows it; else empty
    """

    lines: tuple[CalendarLine, ...]
    coming: tuple[DiaryRow, ...]
    address: str = ""


def calendars_page(actor: Actor, now: datetime) -> CalendarsPage:
    """Show the member's calendars; the dispatch calendar only to organisers and helpers."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        return _page(tx, actor, now)


def new_address(actor: Actor, kind: CalendarKind, now: datetime) -> CalendarsPage:
    """Make a calendar's secret address, once shown and never again; an older one stops working.

    Reminders stay as they were chosen for the older one.

    Returns
    -------
    the page of the calendars as they stand then, with the address
    """
    actor.must(Permission.SEE_CIRCLE)
    token = actor.house.new_token()
    with actor.books.writing() as tx:
        member = _member(tx, actor)
        if not _may_have(member, kind):
            raise NotAllowedError("Only organisers and helpers have the dispatch calendar.")
        reminders = True
        for old in CALENDARS.all(
            tx, actor.circle_id, member_id=member.id, kind=kind.value, revoked_at=None
        ):
            reminders = old.reminders
            CALENDARS.change(tx, actor.circle_id, old.id, revoked_at=now)
        CALENDARS.add(
            tx,
            actor.circle_id,
            member_id=member.id,
            kind=kind.value,
            sha256=hash_of(token),
            made_at=now,
            changed_at=now,
            reminders=reminders,
        )
        note(tx, actor, "made a calendar address", kind.value, now)
        address = f"{actor.house.public_url}/cal/{token}/{kind.value}.ics"
        return replace(_page(tx, actor, now), address=address)


def revoke_address(actor: Actor, kind: CalendarKind, now: datetime) -> None:
    """Let a calendar's address stop working."""
    with actor.books.writing() as tx:
        address = _in_use(tx, actor, kind)
        CALENDARS.change(tx, actor.circle_id, address.id, revoked_at=now)
        note(tx, actor, "let a calendar address stop", kind.value, now)


def set_reminders(actor: Actor, kind: CalendarKind, now: datetime, *, on: bool) -> None:
    """Write reminders into a calendar, or leave them out."""
    with actor.books.writing() as tx:
        address = _in_use(tx, actor, kind)
        CALENDARS.change(tx, actor.circle_id, address.id, reminders=on, changed_at=now)


def calendar_at(house: House, token: str, by: str, machine_now: datetime) -> ServedCalendar | None:
    """Give what is served at a secret address, or None where there is no such calendar.

    It stops for anyone who has left, and the dispatch calendar for anyone not organiser or helper.
    When it was last fetched and by what program is written down, but not at every fetch.

    Parameters
    ----------
    by : the program that fetches it
    """
    with house.books.reading() as tx:
        address = calendar_addresses.with_token(tx, token)
        made = None if address is None else calendar_of(tx, house, address, machine_now)
    if address is not None and made is not None and _to_be_noted(address, by, machine_now):
        # Whoever fetches a calendar gets it, even when the database is too busy for the note.
        with suppress(DatabaseBusyError), house.books.writing() as tx:
            calendar_addresses.note_fetch(tx, address.id, by, machine_now)
    return made


def calendar_of(
    tx: Tx, house: House, address: CalendarAddressRow, machine_now: datetime
) -> ServedCalendar | None:
    """Give what is served at an address, within an act; None where it has stopped."""
    if address.revoked_at is not None:
        return None
    member = MEMBERS.get(tx, address.circle_id, address.member_id)
    kind = CalendarKind(address.kind)
    if member.left_at is not None or not _may_have(member, kind):
        return None
    circle = circles.get(tx, address.circle_id)
    now = now_of(house, circle, machine_now)
    household_id = member.household_id if kind is CalendarKind.MEMBER else None
    facts = _of_household(tx, house, circle, household_id, now)
    changed = max(facts.changed_at, address.changed_at)
    made = served(replace(facts, changed_at=changed, alarms=address.reminders))
    # What is over drops out of the window at midnight, and no row records that; an instant
    # still to come, as in a circle that stands on a fixed day, may not be told (RFC 9110, 8.8.2).
    changed = max(made.last_modified, _midnight(circle, now))
    return replace(made, last_modified=min(changed, machine_now.replace(microsecond=0)))


def _to_be_noted(address: CalendarAddressRow, by: str, machine_now: datetime) -> bool:
    last = address.last_fetched_at
    lately = last is not None and timedelta(0) <= machine_now - last < NOTE_EVERY
    return not lately or address.last_fetched_by != by[: calendar_addresses.LONGEST_BY]


def household_calendar(actor: Actor, household_id: int | None, now: datetime) -> ServedCalendar:
    """Give a household's calendar, or the circle's dispatch calendar, without an address."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        circle = circles.get(tx, actor.circle_id)
        return served(_of_household(tx, actor.house, circle, household_id, now))


def _page(tx: Tx, actor: Actor, now: datetime) -> CalendarsPage:
    circle = circles.get(tx, actor.circle_id)
    member = _member(tx, actor)
    in_use = CALENDARS.all(tx, actor.circle_id, member_id=member.id, revoked_at=None)
    today = today_in(circle, now)
    rows = DIARY.all(tx, actor.circle_id, household_id=member.household_id, cancelled_on=None)
    return CalendarsPage(
        tuple(
            CalendarLine(
                kind,
                _name(circle, kind),
                next((one for one in in_use if one.kind == kind.value), None),
            )
            for kind in CalendarKind
            if _may_have(member, kind)
        ),
        tuple(row for row in rows if row.last_day >= today)[:NEXT_SHOWN],
    )


def _may_have(member: MemberRow, kind: CalendarKind) -> bool:
    return kind is CalendarKind.MEMBER or member.organiser or bool(member.helper)


def _member(tx: Tx, actor: Actor) -> MemberRow:
    member_id = actor.acting_for or actor.member_id
    if member_id is None:
        raise NotHereError("the clock has no calendar")
    return MEMBERS.get(tx, actor.circle_id, member_id)


def _in_use(tx: Tx, actor: Actor, kind: CalendarKind) -> CalendarAddressRow:
    found = CALENDARS.find(
        tx,
        actor.circle_id,
        member_id=_member(tx, actor).id,
        kind=kind.value,
        revoked_at=None,
    )
    if found is None:
        raise NotHereError("there is no such calendar address in use")
    return found


def _name(circle: CircleRow, kind: CalendarKind) -> str:
    if kind is CalendarKind.MEMBER:
        return circle.name
    return f"{circle.name}: dispatch calendar"


def _midnight(circle: CircleRow, now: datetime) -> datetime:
    zone = ZoneInfo(circle.zone)
    return datetime.combine(now.astimezone(zone).date(), time(0), zone).astimezone(UTC)


def _uid_host(circle: CircleRow) -> str:
    """Give what ends the UIDs of a circle: no change of address, name or machine changes it."""
    return f"made-{circle.created_at.astimezone(UTC):%Y%m%d%H%M%S%f}.circle.invalid"


def _of_household(
    tx: Tx, house: House, circle: CircleRow, household_id: int | None, now: datetime
) -> CalendarFacts:
    rows = DIARY.all(tx, circle.id, household_id=household_id)
    kind = CalendarKind.DISPATCH if household_id is None else CalendarKind.MEMBER
    return CalendarFacts(
        name=_name(circle, kind),
        description="Posting days, arrivals and care, as they now stand.",
        entries=tuple(entry_of(row) for row in rows),
        changed_at=max((row.content_changed_at for row in rows), default=circle.created_at),
        today=today_in(circle, now),
        uid_host=_uid_host(circle),
        page_url=f"{house.public_url}/calendars",
    )
