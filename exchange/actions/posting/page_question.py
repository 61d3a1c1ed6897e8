"""What the page of a one-button link shows of a parcel."""

from dataclasses import dataclass
from datetime import date

from exchange.actions.kernel.actor import Actor
from exchange.actions.people.household_members import members_of
from exchange.actions.posting.parcel_letters import contents
from exchange.domain.permissions import Permission, Subject
from exchange.domain.posting.parcel import ParcelState
from exchange.records import PARCELS, PLACES, Tx
from exchange.words.kernel.phrase import listed


@dataclass(frozen=True, slots=True)
class ParcelAsked:
    """A parcel as its ends are asked about it; no address, no surname.

    Attributes
    ----------
    sender, receiver : first names
    contents : one line for each kind of plant
    receiver_zone : by whose clock its arrival is told
    """

    code: str
    state: ParcelState
    sender: str
    receiver: str
    contents: tuple[str, ...]
    posting_day: date | None
    arrival_from: date | None
    arrival_to: date | None
    receiver_zone: str


def parcel_asked(tx: Tx, actor: Actor, parcel_id: int) -> ParcelAsked:
    """Give a parcel to one of its ends."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    ends = Subject(
        sender=entry.sender_household_id,
        receiver=entry.receiver_household_id,
        poster=entry.poster_household_id,
    )
    actor.must(Permission.SEE_PARCEL, ends)
    sender, receiver = (
        listed([one.first_name for one in members_of(tx, actor.circle_id, household_id)])
        for household_id in (entry.sender_household_id, entry.receiver_household_id)
    )
    return ParcelAsked(
        entry.code,
        entry.state,
        sender,
        receiver,
        contents(tx, actor.circle_id, parcel_id),
        entry.posting_day,
        entry.arrival_from,
        entry.arrival_to,
        PLACES.get(tx, actor.circle_id, entry.receiver_place_id).zone,
    )
