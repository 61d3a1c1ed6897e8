"""The parcels that went, with what was heard of them."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from exchange.domain.arriving.arrival import Condition
from exchange.domain.arriving.season_tally import SentParcel
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.way import Carriage
from exchange.records import PARCEL_LINES, PARCELS, WAYS, Tx
from exchange.records.rows.posting import ParcelRow

HEARD = frozenset({ParcelState.ARRIVED, ParcelState.LOST})
GONE = HEARD | {ParcelState.POSTED}


@dataclass(frozen=True, slots=True)
class SeasonParcel:
    """A parcel that went: its code, and what the report counts of it."""

    code: str
    told: SentParcel


def sent_until(tx: Tx, circle_id: int, today: date) -> Iterator[SeasonParcel]:
    """Give the parcels that have gone; one announced for a day that is over probably did."""
    ways = WAYS.by_id(tx, circle_id)
    plants = Counter[int]()
    for row in PARCEL_LINES.all(tx, circle_id):
        plants[row.parcel_id] += row.count
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
                _alive(one, plants[one.id]),
                by_hand,
            ),
        )


def day_gone(one: ParcelRow, today: date) -> date | None:
    """Give the day a parcel went on, or was to go if that is over; None where it has not gone."""
    if one.state in GONE:
        return one.posted_on or one.posting_day or one.arrived_on
    probably = one.state is ParcelState.ANNOUNCED and one.posting_day is not None
    return one.posting_day if probably and (one.posting_day or today) < today else None


def _alive(one: ParcelRow, plants: int) -> int | None:
    if one.state not in HEARD:
        return None
    return 0 if one.state is ParcelState.LOST or one.condition == Condition.DEAD else plants
