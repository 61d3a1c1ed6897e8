"""What names a member or a household, and goes along when the member is merged into another."""

from collections.abc import Iterator
from datetime import date

from exchange.domain.circle.merge_members import Belonging, Belongings
from exchange.domain.circle.moves import Plain
from exchange.domain.sharing.states import STANDING
from exchange.records import (
    ALLOCATIONS,
    AWAY,
    BATCHES,
    CALENDARS,
    CLAIMS,
    DIARY,
    HOUSEHOLDS,
    LETTERS,
    MEMBERS,
    PARCELS,
    PLACES,
    SPARES,
    Tx,
    links,
)
from exchange.records.rows.people import MemberRow
from exchange.records.rows.running import TO_COPY, LetterState

LETS_IN = frozenset({"invitation", "sign_in", "new_address"})
"""Purposes of links that let only one member in: they end with the member."""
NOT_READ_YET = TO_COPY | {LetterState.WAITING}
"""States of letters that are still to be sent or handed over."""
LENT = ("address", "safe_place", "return_address_allowed", "joined_on")
"""What a household says of itself that the other may lack."""


def belongings_of(tx: Tx, circle_id: int, kept: MemberRow, merged: MemberRow) -> Belongings:
    """Give what goes along with a member, and with the household where nobody else lives in it."""
    open_links = links.open_links_of(tx, merged.id)
    member = (
        *_of_member(tx, circle_id, merged.id),
        *(
            Belonging("one_time_link", one.id, "member_id")
            for one in open_links
            if one.purpose not in LETS_IN
        ),
    )
    ending = tuple(one.id for one in open_links if one.purpose in LETS_IN)
    if not lives_alone(tx, circle_id, kept, merged):
        return Belongings(member, ending)
    old, new = merged.household_id, kept.household_id
    return Belongings(
        member,
        ending,
        tuple(_of_household(tx, circle_id, old, new)),
        _doubled(tx, circle_id, old, new),
        _names(tx, circle_id, old, new),
        _lent(tx, circle_id, old, new),
    )


def lives_alone(tx: Tx, circle_id: int, kept: MemberRow, merged: MemberRow) -> bool:
    """Say whether the household of the member merged is another one, and ends with them."""
    if kept.household_id == merged.household_id:
        return False
    people = MEMBERS.all(tx, circle_id, household_id=merged.household_id, left_at=None)
    return all(one.id == merged.id for one in people)


def in_between(tx: Tx, circle_id: int, one: int, other: int) -> str:
    """Say in a sentence what lies between two households; empty where nothing does."""
    both = {one, other}
    for parcel in PARCELS.all(tx, circle_id, sender_household_id=both):
        if parcel.receiver_household_id in both:
            return f"{parcel.code} is a parcel from the one to the other; two who post to each other are no one."
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    for given in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        ends = {spares[given.spare_id].household_id, claims[given.claim_id].household_id}
        if ends == both:
            return "Plants of the one are promised to the other; say no to those first."
    return ""


def _of_member(tx: Tx, circle_id: int, member_id: int) -> Iterator[Belonging]:
    for letter in LETTERS.all(tx, circle_id, member_id=member_id, state=NOT_READ_YET):
        if letter.kind not in LETS_IN:
            yield Belonging("letter", letter.id, "member_id")
    for calendar in CALENDARS.all(tx, circle_id, member_id=member_id):
        yield Belonging("calendar_address", calendar.id, "member_id")
    for parcel in PARCELS.all(tx, circle_id):
        if parcel.day_chosen_by == member_id:
            yield Belonging("parcel", parcel.id, "day_chosen_by")


def _of_household(tx: Tx, circle_id: int, old: int, new: int) -> Iterator[Belonging]:
    for noun, rows in (
        ("place", PLACES.all(tx, circle_id, household_id=old)),
        ("batch", BATCHES.all(tx, circle_id, household_id=old)),
        ("spare", SPARES.all(tx, circle_id, household_id=old)),
        ("claim", CLAIMS.all(tx, circle_id, household_id=old)),
        ("away", AWAY.all(tx, circle_id, household_id=old)),
    ):
        for one in rows:
            yield Belonging(noun, one.id, "household_id")
    for spare in SPARES.all(tx, circle_id, set_aside_for=old):
        if spare.household_id not in (old, new):
            yield Belonging("spare", spare.id, "set_aside_for")
    for parcel in PARCELS.all(tx, circle_id, sender_household_id=old):
        yield Belonging("parcel", parcel.id, "sender_household_id")
    for parcel in PARCELS.all(tx, circle_id, receiver_household_id=old):
        yield Belonging("parcel", parcel.id, "receiver_household_id")
    for parcel in PARCELS.all(tx, circle_id):
        if parcel.poster_household_id == old:
            yield Belonging("parcel", parcel.id, "poster_household_id")
        if parcel.asked_to_post_id == old:
            yield Belonging("parcel", parcel.id, "asked_to_post_id")
    there = {one.key for one in DIARY.all(tx, circle_id, household_id=new)}
    for entry in DIARY.all(tx, circle_id, household_id=old):
        if entry.key not in there:
            yield Belonging("diary_entry", entry.id, "household_id")


def _doubled(tx: Tx, circle_id: int, old: int, new: int) -> tuple[int, ...]:
    """Give the claims of the old household on what the new one waits for too."""
    given = {one.claim_id for one in ALLOCATIONS.all(tx, circle_id, state=STANDING)}
    waiting = [
        one
        for one in CLAIMS.all(
            tx, circle_id, household_id={old, new}, withdrawn_at=None, set_aside=False
        )
        if one.id not in given
    ]
    wanted = {one.variety_id for one in waiting if one.household_id == new}
    return tuple(one.id for one in waiting if one.household_id == old and one.variety_id in wanted)


def _names(tx: Tx, circle_id: int, old: int, new: int) -> dict[int, tuple[str, str]]:
    """Give other names to the places that would be called as one that is there."""
    taken = {one.name for one in PLACES.all(tx, circle_id, household_id=new)}
    names = {}
    for place in PLACES.all(tx, circle_id, household_id=old):
        tries = (place.name, f"{place.name}, {place.town}")
        more = (f"{place.name} {number}" for number in range(2, len(taken) + 3))
        name = next(one for one in (*tries, *more) if one not in taken)
        taken.add(name)
        if name != place.name:
            names[place.id] = (place.name, name)
    return names


def _lent(tx: Tx, circle_id: int, old: int, new: int) -> dict[str, tuple[Plain, Plain]]:
    """Give what the new household does not say of itself and the old one does."""
    ours, theirs = HOUSEHOLDS.get(tx, circle_id, new), HOUSEHOLDS.get(tx, circle_id, old)
    found: dict[str, tuple[Plain, Plain]] = {}
    for column in LENT:
        mine, other = getattr(ours, column), getattr(theirs, column)
        # Leave to print an address goes with the address it was given for.
        asked = not ours.address if column in LENT[:3] else True
        if other and not mine and asked:
            found[column] = (mine, other.isoformat() if isinstance(other, date) else other)
    return found
