"""Plants told of in one line: to their sender what goes in one parcel, answered alike; to who claimed what is of one kind."""

from collections.abc import Iterable, Mapping

from exchange.actions.kernel.actor import Actor
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, CLAIMS, PARCEL_LINES, SPARES, Tx
from exchange.records.rows.growing import SpareRow
from exchange.records.rows.sharing import AllocationRow
from exchange.words.growing.together import Kind, Plants, kind


def in_one_line(
    tx: Tx, actor: Actor, given: Iterable[AllocationRow]
) -> tuple[tuple[AllocationRow, ...], ...]:
    """Sort allocations into lines, each in the order in which they are given."""
    found: dict[object, list[AllocationRow]] = {}
    there = tuple(given)
    spares = SPARES.by_id(tx, actor.circle_id, id={one.spare_id for one in there})
    claims = CLAIMS.by_id(tx, actor.circle_id, id={one.claim_id for one in there})
    inside: dict[int, list[int]] = {}
    for row in PARCEL_LINES.all(tx, actor.circle_id, allocation_id={one.id for one in there}):
        inside.setdefault(row.allocation_id, []).append(row.parcel_id)
    for one in there:
        spare = spares[one.spare_id]
        line = (
            spare.household_id,
            _kind(spare),
            claims[one.claim_id].household_id,
            tuple(sorted(inside.get(one.id, ()))),
            one.state,
        )
        found.setdefault(line, []).append(one)
    return tuple(tuple(line) for line in found.values())


def asked_together(tx: Tx, actor: Actor, allocation_id: int) -> tuple[AllocationRow, ...]:
    """Give an allocation and those that stand in one line with it; itself alone where it stands no longer."""
    named = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
    household_id = SPARES.get(tx, actor.circle_id, named.spare_id).household_id
    own = set(SPARES.by_id(tx, actor.circle_id, household_id=household_id))
    standing = ALLOCATIONS.all(tx, actor.circle_id, spare_id=own, state=STANDING)
    lines = in_one_line(tx, actor, standing)
    line = next((one for one in lines if named in one), (named,))
    return (named, *(one for one in line if one.id != named.id))


def of_one_kind(
    parts: Iterable[AllocationRow], spares: Mapping[int, SpareRow]
) -> tuple[tuple[AllocationRow, ...], ...]:
    """Sort what was given to one claim into lines, whoever sends it."""
    found: dict[Kind, list[AllocationRow]] = {}
    for one in parts:
        found.setdefault(_kind(spares[one.spare_id]), []).append(one)
    return tuple(tuple(line) for line in found.values())


def coming_together(tx: Tx, actor: Actor, allocation_id: int) -> tuple[AllocationRow, ...]:
    """Give an allocation and what else of its kind its claim is given; itself alone where it stands no longer."""
    named = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
    given = ALLOCATIONS.all(tx, actor.circle_id, claim_id=named.claim_id, state=STANDING)
    lines = of_one_kind(given, SPARES.by_id(tx, actor.circle_id))
    return next((one for one in lines if named in one), (named,))


def _kind(spare: SpareRow) -> Kind:
    return kind(Plants(spare.variety_id, spare.material, spare.raised, spare.count))
