"""Joining by invitation: a name and a town, no more."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import House, note, now_of, today_in
from exchange.actions.kernel.letters import settle
from exchange.actions.kernel.links import Opened, Purpose, look_at_link, redeem
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import clean_address, clean_name
from exchange.actions.people.places import add_place_of
from exchange.actions.people.session import LetIn
from exchange.actions.people.towns import Town, TownNotFoundError
from exchange.records import HOUSEHOLDS, MEMBERS, PLACES, Tx, accounts


class AccountExistsError(RefusedError):
    """The address has an account already; its owner signs in with it first."""


@dataclass(frozen=True, slots=True)
class Joining:
    """What somebody gives when joining.

    Attributes
    ----------
    town : None where the organiser has said it already
    email : where the invitation named none
    signed_in_as : the account signed in at present, None for a new one
    """

    first_name: str
    town: Town | None
    surname: str = ""
    email: str = ""
    signed_in_as: int | None = None


@dataclass(frozen=True, slots=True)
class Invitation:
    """An invitation that still works.

    Attributes
    ----------
    has_account : whether the invited address has an account already, perhaps in another circle
    needs_town : whether nobody has said yet where they grow
    """

    opened: Opened
    has_account: bool
    needs_town: bool

    @property
    def needs_address(self) -> bool:
        """Say whether it named no e-mail address."""
        return not self.opened.member.email


def invitation(house: House, token: str, machine_now: datetime) -> Invitation:
    """Look at an invitation without using it up.

    Raises
    ------
    LinkGoneError
        When it cannot be used any more.
    """
    with house.books.reading() as tx:
        opened = _opened(tx, house, token, machine_now)
        member = opened.member
        known = bool(member.email) and accounts.with_email(tx, member.email or "") is not None
        placed = PLACES.all(tx, member.circle_id, household_id=member.household_id)
        return Invitation(opened, known, not placed)


def join(house: House, token: str, joining: Joining, machine_now: datetime) -> LetIn:
    """Join the circle by an invitation, which is used up.

    Raises
    ------
    LinkGoneError
        When the invitation cannot be used any more.
    TownNotFoundError
        When no town is given and none is known.
    AccountExistsError
        When the address belongs to an account nobody has signed in to: an invitation alone never
        opens an account that may belong to other circles.
    """
    with house.books.writing() as tx:
        opened = _opened(tx, house, token, machine_now)
        now = now_of(house, opened.circle, machine_now)
        return LetIn(record_joining(tx, house, opened, joining, now), opened.circle.id)


def record_joining(tx: Tx, house: House, opened: Opened, joining: Joining, now: datetime) -> int:
    """Use an invitation up, let its member join and give the account, within an act."""
    member, circle_id = opened.member, opened.circle.id
    first, surname = clean_name(joining.first_name), clean_name(joining.surname, required=False)
    redeem(tx, opened, now)
    email = _address(tx, opened, joining)
    account_id = _account(tx, opened, house, email, joining, now)
    MEMBERS.change(
        tx,
        circle_id,
        member.id,
        first_name=first,
        surname=surname or member.surname,
        email=email,
        account_id=account_id,
    )
    HOUSEHOLDS.change(tx, circle_id, member.household_id, joined_on=today_in(opened.circle, now))
    if not PLACES.all(tx, circle_id, household_id=member.household_id):
        if joining.town is None:
            raise TownNotFoundError("Write the town you grow in, or the nearest to it.", "town")
        add_place_of(tx, circle_id, member.household_id, joining.town)
    settle(tx, member, "invitation", now)
    note(tx, opened.actor(house), "joined the circle", f"{first} {surname}".strip(), now)
    return account_id


def _opened(tx: Tx, house: House, token: str, machine_now: datetime) -> Opened:
    return look_at_link(
        tx, token, Purpose.INVITATION, lambda circle: now_of(house, circle, machine_now)
    )


def _address(tx: Tx, opened: Opened, joining: Joining) -> str:
    """Give the address kept: that of the account signed in to, or the invited one.

    Sign-in links are mailed to it, so an invitation must not send them to anybody but its owner.
    """
    own = None if joining.signed_in_as is None else accounts.get(tx, joining.signed_in_as)
    if own is not None:
        return own.email
    return opened.member.email or clean_address(joining.email)


def _account(
    tx: Tx, opened: Opened, house: House, email: str, joining: Joining, now: datetime
) -> int:
    circle_id = opened.circle.id
    there = accounts.with_email(tx, opened.member.email or email)
    if joining.signed_in_as is not None:
        circle_ids = {one.circle_id for one in accounts.memberships(tx, joining.signed_in_as)}
        if circle_id in circle_ids:
            raise AccountExistsError(
                "You are in this circle already. This invitation is for somebody else."
            )
        if there is not None and there.id != joining.signed_in_as:
            raise AccountExistsError(
                "That address belongs to another sign-in. Sign out and sign in with it.", "email"
            )
        return joining.signed_in_as
    if there is not None:
        raise AccountExistsError(
            "That address has a sign-in already. Sign in first, then press the link again.",
            "email",
        )
    return accounts.add(tx, email, house.new_token(), now)
