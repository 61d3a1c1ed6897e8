"""Who may do what: one table of named predicates, checked in every action."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

ADDRESS_SHOWN_AFTER_ARRIVAL = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who acts: a member, the organiser, or the clock."""

    member_id: int | None
    household_id: int | None
    organiser: bool = False
    clock: bool = False
    names_helper: bool = False


@dataclass(frozen=True, slots=True)
class Subject:
    """What is acted upon, as far as permission needs to know.

    Attributes
    ----------
    owner : household whose thing it is
    sender, receiver : households of a parcel
    poster : another household that has taken it over to post it
    asked : a household asked to do so, which has not answered
    planned, arrived_on : whether the parcel has a plan; when it arrived
    today : the circle's date
    """

    owner: int | None = None
    sender: int | None = None
    receiver: int | None = None
    poster: int | None = None
    asked: int | None = None
    planned: bool = False
    arrived_on: date | None = None
    today: date | None = None


class Permission(StrEnum):
    """What can be allowed."""

    SEE_CIRCLE = "see the circle"
    KEEP_OWN = "keep what is a household's own"
    LET_LAST_PLANT_GO = "say that a last plant may go"
    MEND_NAMES = "mend the names of varieties"
    ACT_FOR = "act for another member"
    RUN_CIRCLE = "run the circle"
    RUN_SHARE_OUT = "run the share-out"
    SEE_PARCEL = "see a parcel"
    SAY_POSTED = "say that a parcel was posted"
    HAND_OVER = "let somebody else post a parcel"
    TAKE_OVER = "take over the posting of a parcel"
    LEAVE_TO_SENDER = "leave the posting of a parcel to its sender"
    SAY_ARRIVED = "say that a parcel came"
    SEE_RECEIVER_ADDRESS = "see the receiver's address"
    RUN_CLOCK = "do what the clock does"


Predicate = Callable[[Person, Subject], bool]


def _member(person: Person, _subject: Subject) -> bool:
    return person.member_id is not None


def _organiser(person: Person, _subject: Subject) -> bool:
    return person.organiser


def _names_helper(person: Person, _subject: Subject) -> bool:
    return person.names_helper


def _clock(person: Person, _subject: Subject) -> bool:
    return person.clock


def _owner(person: Person, subject: Subject) -> bool:
    return person.household_id is not None and person.household_id == subject.owner


def _sender(person: Person, subject: Subject) -> bool:
    return person.household_id is not None and person.household_id == subject.sender


def _receiver(person: Person, subject: Subject) -> bool:
    return person.household_id is not None and person.household_id == subject.receiver


def _poster(person: Person, subject: Subject) -> bool:
    return person.household_id is not None and person.household_id == subject.poster


def _asked(person: Person, subject: Subject) -> bool:
    return person.household_id is not None and person.household_id == subject.asked


def _sender_while_needed(person: Person, subject: Subject) -> bool:
    sends = _sender(person, subject) or _poster(person, subject)
    if not (sends and subject.planned):
        return False
    if subject.arrived_on is None or subject.today is None:
        return True
    return subject.today <= subject.arrived_on + ADDRESS_SHOWN_AFTER_ARRIVAL


PERMISSIONS: Mapping[Permission, tuple[Predicate, ...]] = {
    Permission.SEE_CIRCLE: (_member, _clock),
    Permission.KEEP_OWN: (_owner, _organiser),
    Permission.LET_LAST_PLANT_GO: (_owner,),
    Permission.MEND_NAMES: (_organiser, _names_helper),
    Permission.ACT_FOR: (_organiser,),
    Permission.RUN_CIRCLE: (_organiser, _clock),
    Permission.RUN_SHARE_OUT: (_organiser, _clock),
    Permission.SEE_PARCEL: (_sender, _receiver, _poster, _asked, _organiser, _clock),
    Permission.SAY_POSTED: (_sender, _poster, _organiser),
    Permission.HAND_OVER: (_sender, _organiser),
    Permission.TAKE_OVER: (_asked, _organiser),
    Permission.LEAVE_TO_SENDER: (_sender, _poster, _asked, _organiser),
    Permission.SAY_ARRIVED: (_receiver, _organiser),
    Permission.SEE_RECEIVER_ADDRESS: (_sender_while_needed, _receiver, _organiser),
    Permission.RUN_CLOCK: (_clock, _organiser),
}


def may(person: Person, permission: Permission, subject: Subject | None = None) -> bool:
    """Say whether any predicate of the permission allows it."""
    about = subject or Subject()
    return any(predicate(person, about) for predicate in PERMISSIONS[permission])
