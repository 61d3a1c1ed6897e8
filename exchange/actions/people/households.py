"""What a household says of itself: address, posting days, parcels a day; sharing one as a couple."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import clean_address, clean_name
from exchange.domain.permissions import Permission, Subject
from exchange.records import (
    AWAY,
    BATCHES,
    CLAIMS,
    HOUSEHOLDS,
    MEMBERS,
    PARCELS,
    PLACES,
    SPARES,
    Tx,
)
from exchange.records.rows.people import HouseholdChange, HouseholdRow, MemberRow

MOST_PARCELS = 100
LONGEST_ADDRESS = 400
POSTING = ("posting_weekdays", "parcels_a_day")
ADDRESS = ("address", "safe_place", "return_address_allowed")
CONTACT = ("first_name", "surname", "email", "telephone", "telephone_allowed", "on_ring_list")
SHARED = ("household_id",)
"""What each form of a household's details edits: the columns its version is made of."""


class TermsRefusedError(RefusedError):
    """What the household says of itself cannot be kept."""


class HasDealingsError(RefusedError):
    """Spares, claims or parcels of the old household stand in the way of sharing one."""


@dataclass(frozen=True, slots=True)
class HouseholdPosting:
    """When and how much a household posts; 0 = Monday."""

    posting_weekdays: frozenset[int]
    parcels_a_day: int


@dataclass(frozen=True, slots=True)
class AddressTerms:
    """Where parcels for a household go, and what senders may see of it."""

    address: str
    safe_place: str = ""
    return_address_allowed: bool = False


@dataclass(frozen=True, slots=True)
class ContactTerms:
    """How a member is called and reached."""

    first_name: str
    surname: str = ""
    email: str = ""
    telephone: str = ""
    telephone_allowed: bool = False
    on_ring_list: bool = False


@dataclass(frozen=True, slots=True)
class OwnHousehold:
    """A household, and the person whose page it is."""

    household: HouseholdRow
    member: MemberRow
    others: tuple[MemberRow, ...]

    @property
    def posting_version(self) -> str:
        return version_of(self.household, POSTING)

    @property
    def address_version(self) -> str:
        return version_of(self.household, ADDRESS)

    @property
    def contact_version(self) -> str:
        return version_of(self.member, CONTACT)


def own_household(actor: Actor) -> OwnHousehold:
    """Give the household acted for, with its people."""
    with actor.books.reading() as tx:
        return own_household_in(tx, actor)


def own_household_in(tx: Tx, actor: Actor) -> OwnHousehold:
    """Give the household acted for, with its people, within an act."""
    household = HOUSEHOLDS.get(tx, actor.circle_id, actor.own_household())
    people = MEMBERS.all(tx, actor.circle_id, household_id=household.id, left_at=None)
    wanted = actor.acting_for or actor.member_id
    member = next(one for one in people if one.id == wanted)
    return OwnHousehold(household, member, tuple(one for one in people if one.id != wanted))


def set_posting(
    actor: Actor, terms: HouseholdPosting, now: datetime, *, opened: str | None = None
) -> None:
    """Say on which days the household can post, and how many parcels on one."""
    if not terms.posting_weekdays:
        raise TermsRefusedError("Tick one day at least.", "posting_weekdays")
    if not terms.posting_weekdays <= frozenset(range(7)):
        raise TermsRefusedError("Tick days of the week.", "posting_weekdays")
    if not 1 <= terms.parcels_a_day <= MOST_PARCELS:
        raise TermsRefusedError("Write a number from 1 to 100.", "parcels_a_day")
    said: HouseholdChange = {
        "posting_weekdays": terms.posting_weekdays,
        "parcels_a_day": terms.parcels_a_day,
    }
    _change(actor, "told when parcels can be posted", said, opened, now)


def set_address(
    actor: Actor, terms: AddressTerms, now: datetime, *, opened: str | None = None
) -> None:
    """Say where parcels go; only their senders see it, while they need it."""
    if len(terms.safe_place) > LONGEST_ADDRESS:
        raise TermsRefusedError("That is too long for a label; write it shorter.", "address")
    address = as_on_a_label(terms.address)
    said: HouseholdChange = {
        "address": address,
        "safe_place": terms.safe_place.strip(),
        "return_address_allowed": terms.return_address_allowed,
    }
    _change(actor, "changed the address", said, opened, now)


def as_on_a_label(address: str) -> str:
    """Give a postal address without empty lines, or refuse one that no label holds."""
    lines = "\n".join(line.strip() for line in address.splitlines() if line.strip())
    if len(lines) > LONGEST_ADDRESS:
        raise TermsRefusedError("That is too long for a label; write it shorter.", "address")
    return lines


def _change(
    actor: Actor, act: str, said: HouseholdChange, opened: str | None, now: datetime
) -> None:
    household_id = actor.own_household()
    actor.must(Permission.KEEP_OWN, Subject(owner=household_id))
    with actor.books.writing() as tx:
        household = HOUSEHOLDS.get(tx, actor.circle_id, household_id)
        must_be_as_opened(opened, version_of(household, said))
        HOUSEHOLDS.change(tx, actor.circle_id, household_id, **said)
        note(tx, actor, act, household.name, now)


def set_contact(
    actor: Actor, terms: ContactTerms, now: datetime, *, opened: str | None = None
) -> None:
    """Say how the member, or the member acted for, is called and reached.

    The address of somebody who signs in stays the one of the sign-in.
    """
    member_id = actor.acting_for or actor.member_id
    with actor.books.writing() as tx:
        member = MEMBERS.get(tx, actor.circle_id, member_id or 0)
        actor.must(Permission.KEEP_OWN, Subject(owner=member.household_id))
        must_be_as_opened(opened, version_of(member, CONTACT))
        email = clean_address(terms.email) if terms.email.strip() else None
        if member.account_id is not None and email != member.email:
            raise TermsRefusedError(
                "This address is the one to sign in with; change it under Your sign-in.",
                "email",
            )
        MEMBERS.change(
            tx,
            actor.circle_id,
            member.id,
            first_name=clean_name(terms.first_name),
            surname=clean_name(terms.surname, required=False),
            email=email,
            telephone=terms.telephone.strip()[:40],
            telephone_allowed=terms.telephone_allowed,
            on_ring_list=terms.on_ring_list,
        )
        note(tx, actor, "changed name or telephone", member.full_name, now)


def share_household(
    actor: Actor, member_id: int, household_id: int, now: datetime, *, opened: str | None = None
) -> None:
    """Let a member share another's household, as a couple does; places and batches go along.

    Raises
    ------
    HasDealingsError
        When the old household has spares, claims or parcels, which stay with it.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        member = MEMBERS.get(tx, actor.circle_id, member_id)
        must_be_as_opened(opened, version_of(member, SHARED))
        joined = HOUSEHOLDS.get(tx, actor.circle_id, household_id)
        old = member.household_id
        if old == joined.id:
            return
        MEMBERS.change(tx, actor.circle_id, member_id, household_id=joined.id)
        if not MEMBERS.all(tx, actor.circle_id, household_id=old, left_at=None):
            _move_all(tx, actor, old, joined.id)
            day = today_in(circle_of(actor, tx), now)
            HOUSEHOLDS.change(tx, actor.circle_id, old, left_on=day)
        note(tx, actor, "shares a household", f"{member.full_name}: {joined.name}", now)


def _move_all(tx: Tx, actor: Actor, old: int, new: int) -> None:
    circle_id = actor.circle_id
    if (
        SPARES.all(tx, circle_id, household_id=old)
        or CLAIMS.all(tx, circle_id, household_id=old)
        or PARCELS.all(tx, circle_id, sender_household_id=old)
        or PARCELS.all(tx, circle_id, receiver_household_id=old)
    ):
        raise HasDealingsError(
            "They have spares, claims or parcels of their own; finish or withdraw those first.",
            "household_id",
        )
    taken = {place.name for place in PLACES.all(tx, circle_id, household_id=new)}
    for place in PLACES.all(tx, circle_id, household_id=old):
        name = place.name if place.name not in taken else f"{place.name}, {place.town}"
        PLACES.change(tx, circle_id, place.id, household_id=new, name=name)
    for batch in BATCHES.all(tx, circle_id, household_id=old):
        BATCHES.change(tx, circle_id, batch.id, household_id=new)
    for away in AWAY.all(tx, circle_id, household_id=old):
        AWAY.change(tx, circle_id, away.id, household_id=new)
