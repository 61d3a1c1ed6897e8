"""Signing in without a password: a link by mail, or one the organiser hands over."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor, House, clock_actor, note, now_of
from exchange.actions.kernel.letters import write
from exchange.actions.kernel.links import GOOD_FOR, Purpose, look_at_link, make_link, redeem
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import NewMember, record_invitation, record_invitation_again
from exchange.actions.people.session import LetIn
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS, Tx, accounts, circles
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.people import MemberRow
from exchange.words.kernel import letters as words


class NoWayInError(RefusedError):
    """No link can be made for this person."""


def mail_sign_in(house: House, email: str, machine_now: datetime) -> None:
    """Mail a sign-in link to an address that has an account; to others, nothing, and say nothing."""
    with house.books.writing() as tx:
        account = accounts.with_email(tx, email)
        members = accounts.memberships(tx, account.id) if account else ()
        if not members:
            return
        member = members[0]
        circle = circles.get(tx, member.circle_id)
        now = now_of(house, circle, machine_now)
        _write_sign_in(tx, house, circle, member, now)


def _write_sign_in(
    tx: Tx, house: House, circle: CircleRow, member: MemberRow, now: datetime
) -> None:
    link = make_link(tx, house, member, Purpose.SIGN_IN, now)
    minutes = int(GOOD_FOR[Purpose.SIGN_IN].total_seconds() // 60)
    letter = words.sign_in(words.LetterReader(member.first_name, circle.name), link, minutes)
    write(tx, house, member, letter, f"sign_in:{link.rpartition('/')[2][:12]}", now)


def sign_in_with(house: House, token: str, machine_now: datetime) -> LetIn:
    """Use a sign-in link up, and say whom it lets in.

    Raises
    ------
    LinkGoneError
        When it cannot be used any more.
    NoWayInError
        When its member has no account.
    """
    with house.books.writing() as tx:
        opened = look_at_link(
            tx, token, Purpose.SIGN_IN, lambda circle: now_of(house, circle, machine_now)
        )
        account_id = opened.member.account_id
        if account_id is None:
            raise NoWayInError("There is no sign-in for you yet; ask your organiser.")
        redeem(tx, opened, now_of(house, opened.circle, machine_now))
        return LetIn(account_id, opened.circle.id)


def hand_sign_in(actor: Actor, member_id: int, now: datetime) -> str:
    """Make a sign-in link for the organiser to hand over on paper or read out.

    Raises
    ------
    NoWayInError
        When the member has no account, or one that opens other circles too, which this
        organiser must not open.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        member = MEMBERS.get(tx, actor.circle_id, member_id)
        if member.account_id is None:
            raise NoWayInError("They have not joined yet; invite them instead.")
        if len(accounts.memberships(tx, member.account_id)) > 1:
            raise NoWayInError(
                "Their sign-in also opens another circle, so only they can ask for a link."
            )
        link = make_link(tx, actor.house, member, Purpose.SIGN_IN, now)
        note(tx, actor, "made a sign-in link", member.full_name, now)
    return link


def way_in(house: House, circle_name: str, email: str, name: str, machine_now: datetime) -> str:
    """Give whoever runs the machine a link for a member, or for somebody new by name."""
    with house.books.writing() as tx:
        circle = _circle(tx, circle_name)
        now = now_of(house, circle, machine_now)
        actor = clock_actor(house, circle.id)
        member = _with_email(tx, circle.id, email)
        if member is not None and member.account_id is not None:
            return make_link(tx, house, member, Purpose.SIGN_IN, now)
        if member is not None:
            return record_invitation_again(tx, actor, member, now).link
        if not name:
            raise NoWayInError(
                f"Nobody in {circle.name} has this address. Invite them with --name."
            )
        return record_invitation(tx, actor, NewMember(name, email=email), now).link


def _circle(tx: Tx, name: str) -> CircleRow:
    found = circles.everyone(tx)
    wanted = [one for one in found if not name or one.name == name]
    if len(wanted) == 1:
        return wanted[0]
    if not found:
        raise NoWayInError("There is no circle yet; set one up with: exchange init")
    names = ", ".join(one.name for one in found)
    raise NoWayInError(f"Say which circle with --circle: {names}.")


def _with_email(tx: Tx, circle_id: int, email: str) -> MemberRow | None:
    wanted = email.strip().lower()
    here = MEMBERS.all(tx, circle_id, left_at=None)
    return next((one for one in here if (one.email or "").lower() == wanted), None)
