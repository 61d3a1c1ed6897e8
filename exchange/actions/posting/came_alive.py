"""What came alive: it stands with the receiver as batches, each with where it came from."""

from collections.abc import Mapping
from datetime import date

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.parcel_facts import lines_of
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import courses, needs
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import ALLOCATIONS, BATCHES, SHELTERS, SPARES, Tx
from exchange.records.rows.posting import ParcelRow


def origin_of(entry: ParcelRow) -> str:
    """Give what a batch says of where it came from."""
    return origin_of_code(entry.code)


def origin_of_code(code: str) -> str:
    """Give the same by a parcel's code alone."""
    return f"parcel {code}"


def make_batches(
    tx: Tx, actor: Actor, entry: ParcelRow, alive: Mapping[int, int], day: date
) -> None:
    """Let what lives of a parcel stand with the receiver: one batch for each allocation.

    Parameters
    ----------
    alive : allocation id -> plants of it that live
    """
    allocations = ALLOCATIONS.by_id(tx, actor.circle_id, id=set(alive))
    stands = _stands(tx, actor, entry, day)
    for allocation_id, plants in alive.items():
        if not plants:
            continue
        spare = SPARES.get(tx, actor.circle_id, allocations[allocation_id].spare_id)
        BATCHES.add(
            tx,
            actor.circle_id,
            variety_id=spare.variety_id,
            household_id=entry.receiver_household_id,
            place_id=entry.receiver_place_id,
            material=spare.material,
            raised=spare.raised,
            plants=plants,
            shelter=stands.get(allocation_id),
            origin=origin_of(entry),
            since=day,
        )


class ListedSinceError(RefusedError):
    """Something is offered from what came in the parcel."""


def remove_batches(tx: Tx, actor: Actor, entry: ParcelRow) -> None:
    """Take back what stands with the receiver of a parcel.

    Raises
    ------
    ListedSinceError
        When spares were listed from it since.
    """
    listed = {
        one.batch_id
        for one in SPARES.all(
            tx, actor.circle_id, household_id=entry.receiver_household_id, withdrawn_at=None
        )
    }
    for batch in BATCHES.all(
        tx,
        actor.circle_id,
        household_id=entry.receiver_household_id,
        place_id=entry.receiver_place_id,
        origin=origin_of(entry),
    ):
        if batch.id in listed:
            raise ListedSinceError(
                "Spares have been listed since from what came; take those off the list first."
            )
        BATCHES.remove(tx, actor.circle_id, batch.id)


def _stands(tx: Tx, actor: Actor, entry: ParcelRow, day: date) -> dict[int, ShelterKind | None]:
    """Give where care places each allocation, so that it takes room there; None where not said."""
    told = SHELTERS.all(tx, actor.circle_id, place_id=entry.receiver_place_id)
    kinds = frozenset(one.kind for one in told)
    window = ArrivalWindow(day, day)
    found: dict[int, ShelterKind | None] = {}
    for course in courses(lines_of(tx, actor.circle_id, entry.id)):
        stand = needs(course, window, kinds).settling_in
        for allocation_id in course.allocation_ids:
            found[allocation_id] = stand.shelter if stand.told else None
    return found
