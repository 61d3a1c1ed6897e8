"""Plants of a parcel that did not live: what was given ends, the claim lacks it again, the reserve is asked."""

from collections.abc import Mapping
from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.parcel_letters import both_ends, write_to
from exchange.actions.posting.parcel_lines import all_that_goes
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, PARCEL_LINES, PARCELS, SPARES, VARIETIES, Tx
from exchange.records.rows.posting import ParcelLineRow, ParcelRow
from exchange.records.rows.sharing import AllocationRow
from exchange.words.posting import ended as words


def record_missing(
    tx: Tx, actor: Actor, entry: ParcelRow, gone: Mapping[int, int], now: datetime
) -> int:
    """End what did not live of a parcel, within an act; give how much it is [plants].

    Its spare stays without it, for the plants are no more. What a share-out gave is asked of the reserve.

    Parameters
    ----------
    gone : allocation id -> plants of it that did not live
    """
    ended, varieties = 0, set()
    for row in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=entry.id):
        one = ALLOCATIONS.get(tx, actor.circle_id, row.allocation_id)
        lacks = gone.get(one.id, 0)
        if not lacks or one.state not in STANDING:
            continue
        lost_id = one.id if lacks == one.count else _taken_apart(tx, actor, row, one, lacks)
        ALLOCATIONS.change(
            tx, actor.circle_id, lost_id, state=AllocationState.LOST, answered_at=now
        )
        ended += lacks
        if one.share_out_id is not None:
            varieties.add(SPARES.get(tx, actor.circle_id, one.spare_id).variety_id)
    for variety_id in sorted(varieties):
        ask(tx, actor, "reserve", variety_id, now)
    return ended


def _taken_apart(tx: Tx, actor: Actor, row: ParcelLineRow, one: AllocationRow, lacks: int) -> int:
    """Take what did not live out of an allocation, and give the number of the new one that holds it."""
    ALLOCATIONS.change(tx, actor.circle_id, one.id, count=one.count - lacks)
    apart = ALLOCATIONS.add(
        tx,
        actor.circle_id,
        share_out_id=one.share_out_id,
        spare_id=one.spare_id,
        claim_id=one.claim_id,
        count=lacks,
        state=one.state,
        made_at=one.made_at,
    )
    if lacks == row.count:
        PARCEL_LINES.remove(tx, actor.circle_id, row.id)
    else:
        PARCEL_LINES.change(tx, actor.circle_id, row.id, count=row.count - lacks)
    PARCEL_LINES.add(tx, actor.circle_id, parcel_id=row.parcel_id, allocation_id=apart, count=lacks)
    return apart


def stand_again(tx: Tx, actor: Actor, entry: ParcelRow) -> None:
    """Let what was ended with a parcel stand as given again, within an act."""
    for one in missing_of(tx, actor.circle_id, entry.id):
        ALLOCATIONS.change(
            tx, actor.circle_id, one.id, state=AllocationState.AGREED, answered_at=None
        )


def missing_of(tx: Tx, circle_id: int, parcel_id: int) -> tuple[AllocationRow, ...]:
    """Give what of a parcel did not live."""
    rows = PARCEL_LINES.all(tx, circle_id, parcel_id=parcel_id)
    inside = {row.allocation_id for row in rows}
    return ALLOCATIONS.all(tx, circle_id, id=inside, state=AllocationState.LOST)


def missing_lines(tx: Tx, circle_id: int, parcel_id: int) -> tuple[str, ...]:
    """Say what of a parcel did not live, one line for each kind."""
    parts = [
        (one.count, SPARES.get(tx, circle_id, one.spare_id))
        for one in missing_of(tx, circle_id, parcel_id)
    ]
    return all_that_goes(parts, VARIETIES.by_id(tx, circle_id))


def tell_sender(tx: Tx, actor: Actor, parcel_id: int, now: datetime) -> None:
    """Tell the sender once that a parcel never came, or what of it did not live."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    sender, _receiver = both_ends(entry)
    lines = missing_lines(tx, actor.circle_id, parcel_id)
    lost = entry.state is ParcelState.LOST
    wording = words.never_came if lost else words.not_all_lived
    write_to(
        tx, actor, sender, f"came_to_harm:{parcel_id}:{entry.state}",
        lambda reader, about, link: wording(reader, about, lines, link), now,
    )  # fmt: skip


def gone_again(tx: Tx, circle_id: int, entry: ParcelRow) -> tuple[ParcelRow, ...]:
    """Give the later parcels that hold plants of one that came back."""
    if entry.state is not ParcelState.RETURNED:
        return ()
    inside = {row.allocation_id for row in PARCEL_LINES.all(tx, circle_id, parcel_id=entry.id)}
    rows = PARCEL_LINES.all(tx, circle_id, allocation_id=inside)
    later = {row.parcel_id for row in rows if row.parcel_id > entry.id}
    return PARCELS.all(tx, circle_id, id=later)
