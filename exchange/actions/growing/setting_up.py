"""Setting a member up for them: town, postal address, telephone and shelters in one deed."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.growing.shelters import record_shelters, shelters_of, shelters_version
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.households import as_on_a_label
from exchange.actions.people.members import NewMember, record_added
from exchange.actions.people.page_members import not_set_up
from exchange.actions.people.places import look_up, record_town
from exchange.actions.people.towns import Town, TownWanted
from exchange.domain.circle.place import Place
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.permissions import Permission
from exchange.records import HOUSEHOLDS, MEMBERS, PLACES, Tx
from exchange.records.rows.people import HouseholdRow, MemberRow

LONGEST_TELEPHONE = 40


class NoTownYetError(RefusedError):
    """A shelter stands at a place, and no town is known."""


class HasItsOwnError(RefusedError):
    """A household that is shared keeps what it has said of itself."""


@dataclass(frozen=True, slots=True)
class SetUp:
    """What the organiser says for a member.

    Attributes
    ----------
    town : empty text leaves the place as it is
    shelters : all the kinds their place has
    """

    town: TownWanted
    address: str = ""
    telephone: str = ""
    shelters: frozenset[ShelterKind] = frozenset()


@dataclass(frozen=True, slots=True)
class SetUpPage:
    """A member as far as they are set up.

    Attributes
    ----------
    place : the first of the household's places, None where no town is known
    following : the next member of whom no town, address or shelter is known, None where nobody is left
    """

    member: MemberRow
    household: HouseholdRow
    place: Place | None
    shelters: frozenset[ShelterKind]
    version: str
    following: MemberRow | None


def set_up_page(actor: Actor, member_id: int) -> SetUpPage:
    """Show what is known of a member, for the organiser to set them up."""
    actor.must(Permission.ACT_FOR)
    with actor.books.reading() as tx:
        member = MEMBERS.get(tx, actor.circle_id, member_id)
        household = HOUSEHOLDS.get(tx, actor.circle_id, member.household_id)
        place = _first_place(tx, actor.circle_id, member.household_id)
        there = shelters_of(tx, actor.circle_id, place.id) if place else ()
        return SetUpPage(
            member,
            household,
            place,
            frozenset(one.kind for one in there),
            _version(tx, actor.circle_id, member),
            _following(tx, actor.circle_id, member),
        )


def households_to_share(actor: Actor) -> tuple[HouseholdRow, ...]:
    """Give the households somebody new may live in."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        lived_in = {one.household_id for one in MEMBERS.all(tx, actor.circle_id, left_at=None)}
        households = HOUSEHOLDS.by_id(tx, actor.circle_id, id=lived_in).values()
        return tuple(sorted(households, key=lambda one: one.name))


def add_set_up(actor: Actor, new: NewMember, said: SetUp, now: datetime) -> MemberRow:
    """Keep a member without an account, for whom the organiser acts, with all that is known of them."""
    actor.must(Permission.RUN_CIRCLE)
    found = look_up(said.town)
    with actor.books.writing() as tx:
        member = record_added(tx, actor, new, now)
        if new.household_id is None:
            _record(tx, actor, member, said, found, now)
        elif said.town.text.strip() or said.address.strip() or said.shelters:
            raise HasItsOwnError(
                "That household has a town, an address and shelters of its own; leave them empty"
                " here, and change them on its own page.",
                "household",
            )
    return member


def set_up_member(
    actor: Actor, member_id: int, said: SetUp, now: datetime, *, opened: str | None = None
) -> MemberRow:
    """Say for a member where they grow, where parcels go, how to ring them, and what shelter they have.

    Raises
    ------
    TownNotFoundError, TownNotClearError, TermsRefusedError, NoTownYetError
        With the sentence for the field.
    """
    actor.must(Permission.ACT_FOR)
    found = look_up(said.town)
    with actor.books.writing() as tx:
        member = MEMBERS.get(tx, actor.circle_id, member_id)
        must_be_as_opened(opened, _version(tx, actor.circle_id, member))
        _record(tx, actor, member, said, found, now)
    return member


def _record(
    tx: Tx,
    actor: Actor,
    member: MemberRow,
    said: SetUp,
    found: Town | RefusedError,
    now: datetime,
) -> None:
    """Keep what is said, each part only where it is another than before, within an act."""
    acting = actor.for_member(member.id, member.household_id)
    household = HOUSEHOLDS.get(tx, actor.circle_id, member.household_id)
    place = record_town(tx, acting, said.town, found, now)
    if place is not None:
        record_shelters(tx, acting, place, said.shelters, now)
    elif said.shelters:
        raise NoTownYetError("Write the town first; a shelter stands somewhere.", "town")
    address = as_on_a_label(said.address)
    if address != household.address:
        HOUSEHOLDS.change(tx, actor.circle_id, household.id, address=address)
        note(tx, acting, "changed the address", household.name, now)
    telephone = said.telephone.strip()[:LONGEST_TELEPHONE]
    if telephone != member.telephone:
        MEMBERS.change(tx, actor.circle_id, member.id, telephone=telephone)
        note(tx, acting, "changed name or telephone", member.full_name, now)


def _first_place(tx: Tx, circle_id: int, household_id: int) -> Place | None:
    places = PLACES.all(tx, circle_id, household_id=household_id)
    return places[0] if places else None


def _version(tx: Tx, circle_id: int, member: MemberRow) -> str:
    """Give the version of all that the form of a member edits."""
    household = HOUSEHOLDS.get(tx, circle_id, member.household_id)
    place = _first_place(tx, circle_id, member.household_id)
    parts = [version_of(household, ("address",)), version_of(member, ("telephone",))]
    if place is not None:
        parts.append(version_of(place, ("id", "town", "latitude", "longitude")))
        parts.append(shelters_version(shelters_of(tx, circle_id, place.id)))
    return "/".join(parts)


def _following(tx: Tx, circle_id: int, member: MemberRow) -> MemberRow | None:
    """Give the next member, in the order of joining and round again, who is not set up yet."""
    members = MEMBERS.all(tx, circle_id, left_at=None)
    bare = not_set_up(tx, circle_id)
    others = [one for one in members if one.household_id in bare]
    others = [one for one in others if one.household_id != member.household_id]
    return min(others, key=lambda one: (one.id < member.id, one.id), default=None)
