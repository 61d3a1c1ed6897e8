"""The people of the circle: added, invited, made organiser or helper, leaving."""

from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from email_validator import EmailNotValidError, validate_email

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.letters import write
from exchange.actions.kernel.links import GOOD_FOR, Purpose, make_link
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.places import add_place_of
from exchange.actions.people.towns import Town
from exchange.domain.permissions import Permission
from exchange.records import HOUSEHOLDS, MEMBERS, Tx, accounts, links
from exchange.records.rows.people import MemberRow
from exchange.words.kernel import letters as words

LONGEST_NAME = 60
EVERY_DAY = frozenset(range(7))
HELPERS = MappingProxyType(
    {"": "no", "names": "names", "members": "members", "postage": "postage", "trouble": "trouble"}
)


HELPER = ("helper",)
"""What the form of a member's help edits: the columns its version is made of."""


class MemberNameRefusedError(RefusedError):
    """The name cannot be kept."""


class AddressRefusedError(RefusedError):
    """The e-mail address cannot be kept."""


class LastOrganiserError(RefusedError):
    """The circle would be left without an organiser."""


@dataclass(frozen=True, slots=True)
class NewMember:
    """A person to be kept as a member.

    Attributes
    ----------
    household_id : the household joined, or None for one of its own
    town : where they grow, or None while not known
    """

    first_name: str
    surname: str = ""
    email: str = ""
    telephone: str = ""
    household_id: int | None = None
    town: Town | None = None


@dataclass(frozen=True, slots=True)
class Invited:
    """A member invited, and the address that lets them join once."""

    member: MemberRow
    link: str


def add_member(actor: Actor, new: NewMember, now: datetime) -> int:
    """Keep a member who has no account; the organiser acts for them."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        return record_added(tx, actor, new, now).id


def record_added(tx: Tx, actor: Actor, new: NewMember, now: datetime) -> MemberRow:
    """Keep a member who has no account, within an act that may."""
    member = keep_member(tx, actor, new, now)
    HOUSEHOLDS.change(
        tx,
        actor.circle_id,
        member.household_id,
        joined_on=today_in(circle_of(actor, tx), now),
    )
    note(tx, actor, "added a member", member.full_name, now)
    return member


def invite(actor: Actor, new: NewMember, now: datetime) -> Invited:
    """Keep a member and write the invitation; it can also be read out or printed."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        return record_invitation(tx, actor, new, now)


def record_invitation(tx: Tx, actor: Actor, new: NewMember, now: datetime) -> Invited:
    """Keep a member and write the invitation, within an act that may invite."""
    member = keep_member(tx, actor, new, now)
    note(tx, actor, "invited", member.full_name, now)
    return _write_invitation(tx, actor, member, now)


def invite_again(actor: Actor, member_id: int, now: datetime) -> Invited:
    """Write a fresh invitation to a member without account; older ones no longer work."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        return record_invitation_again(tx, actor, member_here(tx, actor, member_id), now)


def record_invitation_again(tx: Tx, actor: Actor, member: MemberRow, now: datetime) -> Invited:
    """Write a fresh invitation, within an act that may invite."""
    if member.account_id is not None:
        raise MemberNameRefusedError(f"{member.full_name} has joined already.")
    links.revoke(tx, member.id, Purpose.INVITATION, now)
    note(tx, actor, "invited again", member.full_name, now)
    return _write_invitation(tx, actor, member, now)


def _write_invitation(tx: Tx, actor: Actor, member: MemberRow, now: datetime) -> Invited:
    circle = circle_of(actor, tx)
    link = make_link(tx, actor.house, member, Purpose.INVITATION, now)
    inviter = "" if actor.member_id is None else member_here(tx, actor, actor.member_id).first_name
    letter = words.invitation(
        words.LetterReader(member.first_name, circle.name),
        inviter or circle.name,
        link,
        today_in(circle, now + GOOD_FOR[Purpose.INVITATION]),
    )
    write(tx, actor.house, member, letter, f"invitation:{link.rpartition('/')[2][:12]}", now)
    return Invited(member, link)


def keep_member(tx: Tx, actor: Actor, new: NewMember, now: datetime) -> MemberRow:
    """Keep a member in an open transaction, with a household and, if known, a place."""
    first, surname = clean_name(new.first_name), clean_name(new.surname, required=False)
    email = clean_address(new.email) if new.email.strip() else None
    if email is not None:
        refuse_twice(tx, actor, email)
    household_id = new.household_id
    if household_id is None:
        household_id = _new_household(tx, actor, surname or first)
    else:
        _must_be_lived_in(tx, actor, household_id)
    member_id = MEMBERS.add(
        tx,
        actor.circle_id,
        household_id=household_id,
        first_name=first,
        surname=surname,
        email=email,
        telephone=new.telephone.strip()[:40],
        joined_at=now,
    )
    if new.town is not None:
        add_place_of(tx, actor.circle_id, household_id, new.town)
    return MEMBERS.get(tx, actor.circle_id, member_id)


def make_organiser(actor: Actor, member_id: int, organiser: bool, now: datetime) -> None:
    """Make a member organiser, or no longer; one always remains."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        member = member_here(tx, actor, member_id)
        if member.organiser and not organiser:
            keep_one_organiser(tx, actor, member_id)
        MEMBERS.change(tx, actor.circle_id, member_id, organiser=organiser)
        act = "made organiser" if organiser else "no longer organiser"
        note(tx, actor, act, member.full_name, now)


def make_helper(
    actor: Actor, member_id: int, helper: str, now: datetime, *, opened: str | None = None
) -> None:
    """Say what a member helps the organiser with; nothing when empty."""
    actor.must(Permission.RUN_CIRCLE)
    if helper not in HELPERS:
        raise MemberNameRefusedError("Choose what they help with.", "helper")
    with actor.books.writing() as tx:
        member = member_here(tx, actor, member_id)
        must_be_as_opened(opened, version_of(member, HELPER))
        MEMBERS.change(tx, actor.circle_id, member_id, helper=helper)
        note(tx, actor, "made helper", f"{member.full_name}: {helper or 'no longer'}", now)


def clean_name(text: str, required: bool = True) -> str:
    """Give a name without needless spaces, or refuse it."""
    cleaned = " ".join(text.split())
    if required and not cleaned:
        raise MemberNameRefusedError("Write the name.", "first_name")
    if len(cleaned) > LONGEST_NAME:
        raise MemberNameRefusedError(
            f"That name is longer than {LONGEST_NAME} letters; write it shorter.",
            "first_name",
        )
    return cleaned


def clean_address(text: str) -> str:
    """Give an e-mail address as it is kept, or refuse it; nothing is looked up."""
    try:
        return validate_email(text.strip(), check_deliverability=False).normalized
    except EmailNotValidError as error:
        raise AddressRefusedError(
            "That is no e-mail address; it looks like name@example.org.", "email"
        ) from error


def refuse_twice(tx: Tx, actor: Actor, email: str) -> None:
    """Refuse an address by which somebody is in the circle already, within an act."""
    here = MEMBERS.all(tx, actor.circle_id, left_at=None)
    account = accounts.with_email(tx, email)
    for member in here:
        same = (member.email or "").lower() == email.lower()
        if same or (account is not None and member.account_id == account.id):
            raise AddressRefusedError(
                f"{member.full_name} is in the circle with this address.",
                "email",
            )


def _new_household(tx: Tx, actor: Actor, name: str) -> int:
    taken = {one.name for one in HOUSEHOLDS.all(tx, actor.circle_id)}
    free = (name if n == 1 else f"{name} {n}" for n in range(1, len(taken) + 2))
    return HOUSEHOLDS.add(
        tx,
        actor.circle_id,
        name=next(one for one in free if one not in taken),
        posting_weekdays=EVERY_DAY,
    )


def _must_be_lived_in(tx: Tx, actor: Actor, household_id: int) -> None:
    if not MEMBERS.all(tx, actor.circle_id, household_id=household_id, left_at=None):
        raise MemberNameRefusedError("Choose one of these.", "household")


def member_here(tx: Tx, actor: Actor, member_id: int) -> MemberRow:
    """Give a member who has not left."""
    member = MEMBERS.get(tx, actor.circle_id, member_id)
    if member.left_at is not None:
        raise MemberNameRefusedError(f"{member.full_name} has left the circle.")
    return member


def keep_one_organiser(tx: Tx, actor: Actor, leaving: int) -> None:
    """Refuse to leave the circle without an organiser."""
    others = MEMBERS.all(tx, actor.circle_id, organiser=True, left_at=None)
    if not any(one.id != leaving for one in others):
        raise LastOrganiserError("Make somebody else organiser first; a circle needs one.")
