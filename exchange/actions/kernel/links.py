"""Links that work once: an invitation, a sign-in by mail, a one-button answer."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from exchange.actions.kernel.actor import Actor, House, actor_of
from exchange.records import Tx, circles, links
from exchange.records.links import NewLink
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.people import LinkRow, MemberRow


class LinkGoneError(Exception):
    """The link was used before, has run out, or never was."""


class Purpose(StrEnum):
    """What a link is for."""

    INVITATION = "invitation"
    SIGN_IN = "sign_in"
    NEW_ADDRESS = "new_address"
    DID_IT_GO = "did_it_go"
    DID_IT_COME = "did_it_come"
    SENDER_ANSWER = "sender_answer"
    STILL_WANTED = "still_wanted"


GOOD_FOR = {
    Purpose.INVITATION: timedelta(days=30),
    Purpose.SIGN_IN: timedelta(minutes=30),
    Purpose.NEW_ADDRESS: timedelta(days=1),
    Purpose.DID_IT_GO: timedelta(days=30),
    Purpose.DID_IT_COME: timedelta(days=30),
    Purpose.SENDER_ANSWER: timedelta(days=30),
    Purpose.STILL_WANTED: timedelta(days=30),
}
PATHS = {
    Purpose.INVITATION: "join",
    Purpose.SIGN_IN: "sign-in-by-mail",
    Purpose.NEW_ADDRESS: "new-address",
}


@dataclass(frozen=True, slots=True)
class Opened:
    """A link that still works, and the member it was made for."""

    token: str
    purpose: Purpose
    subject_id: int | None
    member: MemberRow
    circle: CircleRow

    def actor(self, house: House) -> Actor:
        """Give the actor the link speaks for."""
        return actor_of(house, self.member)


def make_link(
    tx: Tx,
    house: House,
    member: MemberRow,
    purpose: Purpose,
    now: datetime,
    subject_id: int | None = None,
) -> str:
    """Make a link that works once, and give its address; only its hash is kept.

    Parameters
    ----------
    now : the circle's now, by which the link runs out
    subject_id : the parcel or allocation it is about
    """
    token = house.new_token()
    new = NewLink(token, purpose.value, member.id, subject_id, now + GOOD_FOR[purpose])
    links.add(tx, new, now)
    path = PATHS.get(purpose, f"answer/{purpose.value.replace('_', '-')}")
    return f"{house.public_url}/{path}/{token}"


def open_link(
    house: House, token: str, purpose: Purpose, now_of: Callable[[CircleRow], datetime]
) -> Opened:
    """Look at a link without using it up.

    Raises
    ------
    LinkGoneError
        When it cannot be used any more, or its member has left.
    """
    with house.books.reading() as tx:
        return look_at_link(tx, token, purpose, now_of)


def look_at_link(
    tx: Tx, token: str, purpose: Purpose, now_of: Callable[[CircleRow], datetime]
) -> Opened:
    """Look at a link as `open_link` does, within the act that uses it up."""
    found = links.look_at(tx, token)
    if found is None:
        raise LinkGoneError
    link, member = found
    circle = circles.get(tx, member.circle_id)
    if not _still_works(link, member, purpose, now_of(circle)):
        raise LinkGoneError
    return Opened(token, purpose, link.subject_id, member, circle)


def redeem(tx: Tx, opened: Opened, now: datetime) -> None:
    """Use a link up, within the act it stands for; of two at once only one succeeds."""
    if not links.redeem(tx, opened.token, now):
        raise LinkGoneError


def _still_works(link: LinkRow, member: MemberRow, purpose: Purpose, now: datetime) -> bool:
    return (
        link.purpose == purpose.value
        and link.used_at is None
        and link.expires_at > now
        and member.left_at is None
    )
