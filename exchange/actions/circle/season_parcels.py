"""The parcels that went, with what was heard of them."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from exchange.actions.posting.gone import day_gone
from exchange.domain.arriving.arrival import Condition
from exchange.domain.arriving.season_tally import SentParcel
from exchange.domain.posting.parcel import ENDED, NOT_COME
from exchange.domain.posting.way import Carriage
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, PARCEL_LINES, PARCELS, WAYS, Tx
from exchange.records.rows.posting import ParcelRow


@dataclass(frozen=True, slots=True)
class SeasonParcel:
    """A parcel that went: its code, and what the report counts of it."""

    code: str
    told: SentParcel


def sent_until(tx: Tx, circle_id: int, today: date) -> Iterator[SeasonParcel]:
    """Give the parcels that have gone; one announced for a day that is over probably did."""
    ways = WAYS.by_id(tx, circle_id)
    plants = Counter[int]()
    gone = {one.id for one in ALLOCATIONS.all(tx, circle_id, state=AllocationState.LOST)}
    lived = Counter[int]()
    for row in PARCEL_LINES.all(tx, circle_id):
        plants[row.parcel_id] += row.count
        lived[row.parcel_id] += 0 if row.allocation_id in gone else row.count
    for one in PARCELS.all(tx, circle_id):
        day = day_gone(one, today)
        if day is None:
            continue
        way = ways.get(one.way_id or 0)
        by_hand = way is not None and way.carriage == Carriage.BY_HAND
        yield SeasonParcel(
            one.code,
            SentParcel(
                day,
                way.name if way else "",
                str(one.plan.get("packing", "")),
                plants[one.id],
                _alive(one, lived[one.id]),
                by_hand,
            ),
        )


def _alive(one: ParcelRow, lived: int) -> int | None:
    """Give how many came alive: none of what was lost or came back; None where nothing was heard."""
    if one.state not in ENDED:
        return None
    dead = one.state in NOT_COME or one.condition == Condition.DEAD
    return 0 if dead else lived
