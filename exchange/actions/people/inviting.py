"""Inviting many at once: what is in doubt is asked about, and all are invited or nobody."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import (
    Invited,
    NewMember,
    clean_address,
    clean_name,
    record_added,
    record_invitation,
    refuse_twice,
)
from exchange.actions.people.towns import Town, TownNotClearError, TownWanted, find_town
from exchange.domain.circle.people_lines import first_and_surname, names_two
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS, Tx
from exchange.records.rows.people import MemberRow

WHICH_TOWN = "Which town is it? Choose one, or empty the field."


@dataclass(frozen=True, slots=True)
class PersonWanted:
    """Somebody to be invited, as a line or a row of the table names them.

    Attributes
    ----------
    text : the line as it was written
    town : as typed; empty where they say it themselves
    chosen : the town chosen among several, as `key_of` gives it
    email : empty where the organiser acts for them
    somebody_else : said to be another person than the one of that name in the circle
    """

    text: str
    name: str
    town: str = ""
    chosen: str = ""
    email: str = ""
    somebody_else: bool = False


@dataclass(frozen=True, slots=True)
class LookedUp:
    """Somebody to be invited, and what has to be asked about them first.

    Attributes
    ----------
    town : where they grow, None while not known
    towns : those that may be meant
    asked : sentences by the field they belong to
    """

    wanted: PersonWanted
    town: Town | None
    towns: tuple[Town, ...]
    asked: dict[str, str]


class PeopleUnclearError(RefusedError):
    """Something has to be asked about some of these people; nobody is invited yet.

    Attributes
    ----------
    people : everybody named, in order
    """

    def __init__(self, people: tuple[LookedUp, ...]) -> None:
        super().__init__("Look at the lines that are asked about; nobody is invited yet.")
        self.people = people


@dataclass(frozen=True, slots=True)
class Welcomed:
    """Who was invited by a letter, and who was added and has no mail address."""

    invited: tuple[Invited, ...]
    added: tuple[MemberRow, ...]


def invite_people(actor: Actor, people: Sequence[PersonWanted], now: datetime) -> Welcomed:
    """Invite everybody named; who has no mail address is a member at once, and acted for.

    Raises
    ------
    PeopleUnclearError
        When something has to be asked first; then nobody is invited.
    """
    actor.must(Permission.RUN_CIRCLE)
    if not people:
        raise RefusedError("Write at least one line, such as a name and a town.", "lines")
    found = [_look_up(one) for one in people]
    with actor.books.writing() as tx:
        known = tuple(_known(tx, actor, found))
        if any(one.asked for one in known):
            raise PeopleUnclearError(known)
        return Welcomed(
            tuple(
                record_invitation(tx, actor, _new(one), now)
                for one in known
                if one.wanted.email.strip()
            ),
            tuple(
                record_added(tx, actor, _new(one), now)
                for one in known
                if not one.wanted.email.strip()
            ),
        )


def _new(one: LookedUp) -> NewMember:
    first, surname = first_and_surname(one.wanted.name)
    return NewMember(first, surname, one.wanted.email, town=one.town)


def _look_up(wanted: PersonWanted) -> LookedUp:
    """Look at what a line says by itself: the name, the address, the town."""
    asked: dict[str, str] = {}
    first, surname = first_and_surname(wanted.name)
    try:
        clean_name(first)
        clean_name(surname, required=False)
    except RefusedError as refused:
        asked["name"] = str(refused)
    if names_two(wanted.name):
        asked["name"] = "One person a line: write each of them on a line of their own."
    try:
        if wanted.email.strip():
            clean_address(wanted.email)
    except RefusedError as refused:
        asked["email"] = str(refused)
    try:
        wanted_town = TownWanted(wanted.town, wanted.chosen)
        town = find_town(wanted_town) if wanted.town.strip() else None
    except TownNotClearError as several:
        return LookedUp(wanted, None, several.towns, asked | {"town": WHICH_TOWN})
    except RefusedError as refused:
        return LookedUp(wanted, None, (), asked | {"town": str(refused)})
    return LookedUp(wanted, town, (), asked)


def _known(tx: Tx, actor: Actor, found: Iterable[LookedUp]) -> Iterator[LookedUp]:
    """Ask about whom the circle, or a line further up, has already."""
    names = {_folded(one.full_name) for one in MEMBERS.all(tx, actor.circle_id, left_at=None)}
    addresses: set[str] = set()
    for one in found:
        asked = dict(one.asked)
        name, email = _folded(one.wanted.name), one.wanted.email.strip().casefold()
        if name in names and not one.wanted.somebody_else:
            asked.setdefault("somebody_else", "Somebody of this name is in the circle already.")
        if email and "email" not in asked:
            try:
                refuse_twice(tx, actor, clean_address(email))
            except RefusedError as refused:
                asked["email"] = str(refused)
            if email in addresses:
                asked["email"] = "Another line has this address too."
        names.add(name)
        addresses.add(email)
        yield LookedUp(one.wanted, one.town, one.towns, asked)


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())
