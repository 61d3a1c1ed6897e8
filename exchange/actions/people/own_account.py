"""One's own sign-in: the address it goes by, and signing out everywhere."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, House, note, now_of
from exchange.actions.kernel.letters import Addressee, write_to
from exchange.actions.kernel.links import (
    GOOD_FOR,
    LinkGoneError,
    Opened,
    Purpose,
    look_at_link,
    make_link,
    redeem,
)
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import clean_address
from exchange.actions.people.session import LetIn
from exchange.records import MEMBERS, Tx, accounts, circles, links
from exchange.records.rows.people import AccountRow, MemberRow
from exchange.words.kernel import letters as words


class NoSignInError(RefusedError):
    """There is no sign-in of one's own, or the actor acts for somebody else."""


class SameAddressError(RefusedError):
    """The address is the same as before."""


class AddressTakenError(RefusedError):
    """Somebody else has taken the address meanwhile."""


@dataclass(frozen=True, slots=True)
class OwnSignIn:
    """A member's own sign-in.

    Attributes
    ----------
    wanted : the address asked for, whose link has not been pressed; None for none
    by_mail : whether mail goes out from here
    """

    email: str
    wanted: str | None
    by_mail: bool


def own_sign_in(actor: Actor) -> OwnSignIn:
    """Give the actor's own sign-in.

    Raises
    ------
    NoSignInError
        When the actor acts for somebody else: nobody changes another's sign-in.
    """
    with actor.books.reading() as tx:
        _member, account = _own(tx, actor)
    return OwnSignIn(account.email, account.wanted_email, actor.house.mail is not None)


def ask_for_address(actor: Actor, email: str, now: datetime) -> None:
    """Send a link to a new address; until it is pressed, all stays as it was.

    Where the address is somebody else's, nothing is sent and nothing is said.

    Raises
    ------
    AddressRefusedError
        When it is no e-mail address.
    SameAddressError
        When it is the address already.
    """
    wanted = clean_address(email)
    with actor.books.writing() as tx:
        member, account = _own(tx, actor)
        if wanted.lower() == account.email.lower():
            raise SameAddressError("That is the address you sign in with already.", "email")
        for one in accounts.memberships(tx, account.id):
            links.revoke(tx, one.id, Purpose.NEW_ADDRESS, now)
        accounts.want_address(tx, account.id, wanted)
        note(tx, actor, "asked for another address to sign in with", member.full_name, now)
        if not _is_taken(tx, account, wanted):
            link = make_link(tx, actor.house, member, Purpose.NEW_ADDRESS, now)
            hours = int(GOOD_FOR[Purpose.NEW_ADDRESS].total_seconds() // 3600)
            letter = words.new_address(_reader(tx, member), link, hours)
            key = f"new_address:{link.rpartition('/')[2][:12]}"
            write_to(tx, actor.house, Addressee(member, wanted), letter, key, now)


@dataclass(frozen=True, slots=True)
class AddressWanted:
    """A link to a new address that still works, and whose sign-in it is."""

    opened: Opened
    account: AccountRow
    wanted: str


def address_wanted(house: House, token: str, machine_now: datetime) -> AddressWanted:
    """Look at a link to a new address without using it up.

    Raises
    ------
    LinkGoneError
        When it cannot be used any more, or its address is no longer wanted.
    """
    with house.books.reading() as tx:
        return _wanted(tx, house, token, machine_now)


def take_address(house: House, token: str, machine_now: datetime) -> LetIn:
    """Sign in with the new address from now on, in every circle; the old one is told.

    Every session, and every sign-in link mailed to the old address, ends.

    Raises
    ------
    LinkGoneError
        When the link cannot be used any more, or its address is no longer wanted.
    AddressTakenError
        When the address is somebody else's by now.
    """
    with house.books.writing() as tx:
        there = _wanted(tx, house, token, machine_now)
        opened, account, wanted = there.opened, there.account, there.wanted
        now = now_of(house, opened.circle, machine_now)
        redeem(tx, opened, now)
        if _is_taken(tx, account, wanted):
            raise AddressTakenError("This address cannot be signed in with; ask for another.")
        for one in accounts.memberships(tx, account.id):
            MEMBERS.change(tx, one.circle_id, one.id, email=wanted)
            links.revoke(tx, one.id, Purpose.SIGN_IN, now)
        accounts.set_address(tx, account.id, wanted)
        accounts.sign_out_everywhere(tx, account.id, house.new_token())
        old = Addressee(opened.member, account.email)
        letter = words.address_changed(_reader(tx, opened.member))
        write_to(tx, house, old, letter, f"address_changed:{opened.token[:12]}", now)
        note(tx, opened.actor(house), "signs in with another address", opened.member.full_name, now)
        return LetIn(account.id, opened.circle.id)


def sign_out_everywhere(actor: Actor, now: datetime) -> None:
    """Sign the actor's own account out on every telephone and computer, this one too."""
    with actor.books.writing() as tx:
        member, account = _own(tx, actor)
        accounts.sign_out_everywhere(tx, account.id, actor.house.new_token())
        note(tx, actor, "signed out everywhere", member.full_name, now)


def _wanted(tx: Tx, house: House, token: str, machine_now: datetime) -> AddressWanted:
    opened = look_at_link(
        tx, token, Purpose.NEW_ADDRESS, lambda circle: now_of(house, circle, machine_now)
    )
    account = accounts.get(tx, opened.member.account_id or 0)
    if account is None or not account.wanted_email:
        raise LinkGoneError
    return AddressWanted(opened, account, account.wanted_email)


def _own(tx: Tx, actor: Actor) -> tuple[MemberRow, AccountRow]:
    refused = NoSignInError("Only who signs in can look after a sign-in; stop acting first.")
    if actor.member_id is None or actor.acting_for is not None:
        raise refused
    member = MEMBERS.get(tx, actor.circle_id, actor.member_id)
    account = accounts.get(tx, member.account_id or 0)
    if account is None:
        raise refused
    return member, account


def _is_taken(tx: Tx, account: AccountRow, email: str) -> bool:
    """Say whether another account, or another person of the account's circles, has the address."""
    other = accounts.with_email(tx, email)
    if other is not None and other.id != account.id:
        return True
    return any(
        (person.email or "").lower() == email.lower() and person.account_id != account.id
        for own in accounts.memberships(tx, account.id)
        for person in MEMBERS.all(tx, own.circle_id, left_at=None)
    )


def _reader(tx: Tx, member: MemberRow) -> words.LetterReader:
    return words.LetterReader(member.first_name, circles.get(tx, member.circle_id).name)
