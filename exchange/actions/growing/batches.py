"""Who grows what: batches of living plants."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.names import one_line
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.permissions import Permission, Subject
from exchange.records import BATCHES, PLACES, SPARES, VARIETIES, Tx
from exchange.records.varieties import taken_up

MOST_PLANTS = 10_000
LONGEST_ORIGIN = 200
FROM_A_PARCEL = "parcel "
"""How the origin of plants that came in a parcel begins."""
COUNT = ("plants",)
"""What the form of a count edits: the columns its version is made of."""


class NotOwnPlaceError(RefusedError):
    """The place chosen does not belong to the household."""


class NoPlaceError(RefusedError):
    """The household has no place to grow in yet."""


class BatchInUseError(RefusedError):
    """Something rests on the plants, so they can only be counted anew."""


class BatchCountRefusedError(RefusedError):
    """The number of plants cannot be right."""


@dataclass(frozen=True, slots=True)
class NewBatch:
    """Living plants somebody reports.

    Attributes
    ----------
    place_id : None for the household's first place
    """

    variety_id: int
    plants: int
    place_id: int | None = None
    material: Material = Material.YOUNG_PLANT
    raised: Raised = Raised.COOL
    shelter: ShelterKind | None = None
    origin: str = ""


def grow_too(actor: Actor, new: NewBatch, now: datetime) -> int:
    """Say that one grows a variety: the place, the shelter and how many plants are alive."""
    household_id = actor.own_household()
    actor.must(Permission.KEEP_OWN, Subject(owner=household_id))
    with actor.books.writing() as tx:
        variety = taken_up(tx, actor.circle_id, new.variety_id)
        new = replace(new, variety_id=variety.id)
        batch_id = add_batch(tx, actor, new, now)
        note(tx, actor, "told of a batch", variety.name, now)
    return batch_id


def add_batch(tx: Tx, actor: Actor, new: NewBatch, now: datetime) -> int:
    """Keep a batch, or count again the one of the same variety, kind and shelter in that place."""
    check_count(new.plants)
    place_id = own_place(tx, actor, new.place_id) if new.place_id else first_place(tx, actor)
    same = BATCHES.find(
        tx,
        actor.circle_id,
        variety_id=new.variety_id,
        place_id=place_id,
        material=new.material,
        raised=new.raised,
        shelter=new.shelter,
    )
    if same is not None:
        BATCHES.change(tx, actor.circle_id, same.id, plants=new.plants)
        return same.id
    today = today_in(circle_of(actor, tx), now)
    (batch_id,) = BATCHES.add_all(tx, actor.circle_id, [batch_row(actor, new, place_id, today)])
    return batch_id


def batch_row(actor: Actor, new: NewBatch, place_id: int, today: date) -> Batch:
    """Give a batch as it is kept."""
    return Batch(
        0,
        variety_id=new.variety_id,
        household_id=actor.own_household(),
        place_id=place_id,
        material=new.material,
        raised=new.raised,
        plants=new.plants,
        shelter=new.shelter,
        origin=one_line(new.origin)[:LONGEST_ORIGIN],
        since=today,
    )


def count_batch(
    actor: Actor, batch_id: int, plants: int, now: datetime, *, opened: str | None = None
) -> None:
    """Record the count of a batch; 0 when it is lost."""
    check_count(plants)
    with actor.books.writing() as tx:
        batch = BATCHES.get(tx, actor.circle_id, batch_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=batch.household_id))
        must_be_as_opened(opened, version_of(batch, COUNT))
        variety = VARIETIES.get(tx, actor.circle_id, batch.variety_id)
        BATCHES.change(tx, actor.circle_id, batch_id, plants=plants)
        what = f"{variety.name}: {batch.plants}, now {plants}"
        note(tx, actor, "counted a batch", what, now)


def remove_batch(actor: Actor, batch_id: int, now: datetime) -> None:
    """Remove a batch that was written down by mistake, as if it had never been told of.

    Raises
    ------
    BatchInUseError
        When spares are listed from it, or it came in a parcel.
    """
    with actor.books.writing() as tx:
        batch = BATCHES.get(tx, actor.circle_id, batch_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=batch.household_id))
        listed = SPARES.all(tx, actor.circle_id, variety_id=batch.variety_id)
        if any(one.batch_id == batch_id for one in listed):
            raise BatchInUseError("Spares were listed from them; count them anew instead.")
        if batch.origin.startswith(FROM_A_PARCEL):
            raise BatchInUseError(
                f"They came in {batch.origin}; take back there that it came, or count them anew."
            )
        name = VARIETIES.get(tx, actor.circle_id, batch.variety_id).name
        BATCHES.remove(tx, actor.circle_id, batch_id)
        note(tx, actor, "removed plants written down by mistake", name, now)


def first_place(tx: Tx, actor: Actor) -> int:
    """Give the place the household's stock stands in when none is named."""
    return first_of(PLACES.all(tx, actor.circle_id, household_id=actor.own_household()))


def first_of(places: Sequence[Place]) -> int:
    """Give the first of a household's places.

    Raises
    ------
    NoPlaceError
        When it has none.
    """
    if not places:
        raise NoPlaceError("Say first where you grow: add a place in My garden.", "place")
    return min(place.id for place in places)


def own_place(tx: Tx, actor: Actor, place_id: int) -> int:
    """Give the place if it is the household's own.

    Raises
    ------
    NotOwnPlaceError
        When it is not, or was removed while the form was open.
    """
    place = PLACES.find(tx, actor.circle_id, id=place_id)
    if place is None or place.household_id != actor.own_household():
        raise NotOwnPlaceError("Choose one of these.", "place")
    return place_id


def check_count(plants: int) -> None:
    """Refuse a number of plants that cannot be right."""
    if not 0 <= plants <= MOST_PLANTS:
        raise BatchCountRefusedError(
            f"Write how many plants are alive, from 0 to {MOST_PLANTS}.",
            "plants",
        )
