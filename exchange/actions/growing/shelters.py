"""The shelters of a place, and the room for pots in them."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import EditedMeanwhileError, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.circle.place import Place
from exchange.domain.growing.room import POTS_A_TRAY
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.permissions import Permission, Subject
from exchange.records import PLACES, SHELTERS, Tx
from exchange.records.rows.people import ShelterChange, ShelterRow
from exchange.words.growing import plants

MOST_POTS = 8_000
SHELTER = ("room_pots", "carried_in")
"""What the form of a shelter edits: the columns its version is made of."""


class RoomRefusedError(RefusedError):
    """The room cannot be right."""


@dataclass(frozen=True, slots=True)
class NewShelter:
    """A shelter as a household tells of it.

    Attributes
    ----------
    room_pots : None when not given, which means no limit [pots]
    carried_in : whether pots in it can be carried in on a cold night
    """

    place_id: int
    kind: ShelterKind
    room_pots: int | None = None
    carried_in: bool = False


def pots_in(trays: float | None) -> int | None:
    """Give the pots that fit in a number of seed trays; None stays None [pots]."""
    return None if trays is None else round(trays * POTS_A_TRAY)


def trays_for(pots: int | None) -> float | None:
    """Give the seed trays that hold a number of pots [trays]."""
    return None if pots is None else pots / POTS_A_TRAY


def set_shelter(actor: Actor, new: NewShelter, now: datetime, *, opened: str | None = None) -> int:
    """Keep a shelter of a place, or change the one of the same kind there."""
    if new.room_pots is not None and not 0 <= new.room_pots <= MOST_POTS:
        raise RoomRefusedError(
            f"Write how many seed trays fit, from 0 to {MOST_POTS // POTS_A_TRAY}.",
            "trays",
        )
    with actor.books.writing() as tx:
        place = _own_place(tx, actor, new.place_id)
        _must_be_as_opened(opened, shelters_of(tx, actor.circle_id, place.id), new.kind)
        columns: ShelterChange = {"room_pots": new.room_pots, "carried_in": new.carried_in}
        there = SHELTERS.find(tx, actor.circle_id, place_id=place.id, kind=new.kind)
        if there is None:
            shelter_id = SHELTERS.add(
                tx, actor.circle_id, place_id=place.id, kind=new.kind, **columns
            )
        else:
            shelter_id = there.id
            SHELTERS.change(tx, actor.circle_id, shelter_id, **columns)
        note(tx, actor, "told of a shelter", f"{plants.shelter(new.kind)}, {place.name}", now)
    return shelter_id


def remove_shelter(actor: Actor, shelter_id: int, now: datetime) -> None:
    """Take a shelter away; plants in it then stand where nobody has said."""
    with actor.books.writing() as tx:
        shelter = SHELTERS.get(tx, actor.circle_id, shelter_id)
        place = _own_place(tx, actor, shelter.place_id)
        SHELTERS.remove(tx, actor.circle_id, shelter_id)
        note(tx, actor, "removed a shelter", f"{plants.shelter(shelter.kind)}, {place.name}", now)


def tell_shelters(actor: Actor, kinds: frozenset[ShelterKind], now: datetime) -> None:
    """Say all at once which shelters the first place of the household has.

    Raises
    ------
    RoomRefusedError
        When none is ticked, or the household has no place yet.
    """
    household_id = actor.own_household()
    actor.must(Permission.KEEP_OWN, Subject(owner=household_id))
    if not kinds:
        raise RoomRefusedError("Tick one at least; open ground is one too.", "shelters")
    with actor.books.writing() as tx:
        places = PLACES.all(tx, actor.circle_id, household_id=household_id)
        if not places:
            raise RoomRefusedError("Say first where you grow.", "shelters")
        record_shelters(tx, actor, places[0], kinds, now)


def record_shelters(
    tx: Tx, actor: Actor, place: Place, kinds: frozenset[ShelterKind], now: datetime
) -> None:
    """Let a place have shelters of these kinds and no others, within an act; room already said stays."""
    actor.must(Permission.KEEP_OWN, Subject(owner=place.household_id))
    there = {one.kind: one for one in SHELTERS.all(tx, actor.circle_id, place_id=place.id)}
    for kind in ShelterKind:
        if kind in kinds and kind not in there:
            SHELTERS.add(tx, actor.circle_id, place_id=place.id, kind=kind)
            act = "told of a shelter"
        elif kind in there and kind not in kinds:
            SHELTERS.remove(tx, actor.circle_id, there[kind].id)
            act = "removed a shelter"
        else:
            continue
        note(tx, actor, act, f"{plants.shelter(kind)}, {place.name}", now)


def shelters_of(tx: Tx, circle_id: int, place_id: int) -> tuple[ShelterRow, ...]:
    """Give the shelters of a place, from warmest to coldest."""
    order = list(ShelterKind)
    found = SHELTERS.all(tx, circle_id, place_id=place_id)
    return tuple(sorted(found, key=lambda one: order.index(one.kind)))


def shelters_version(shelters: Iterable[ShelterRow]) -> str:
    """Give the version of a place's shelters: a word each, so that an edit concerns one alone."""
    return " ".join(f"{one.kind.value}:{version_of(one, SHELTER)}" for one in shelters)


def _must_be_as_opened(
    opened: str | None, shelters: Iterable[ShelterRow], kind: ShelterKind
) -> None:
    standing = shelters_version(shelters)
    if opened is not None and _word_of(kind, opened) != _word_of(kind, standing):
        raise EditedMeanwhileError(standing)


def _word_of(kind: ShelterKind, version: str) -> str:
    return next((word for word in version.split() if word.startswith(f"{kind.value}:")), "")


def _own_place(tx: Tx, actor: Actor, place_id: int) -> Place:
    place = PLACES.get(tx, actor.circle_id, place_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=place.household_id))
    return place
