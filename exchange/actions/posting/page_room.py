"""Room for pots in the coming weeks: what stands there now, and what is kept for arrivals."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from exchange.domain.growing.room import taken_by
from exchange.domain.posting.parcel import ENDED
from exchange.records import BATCHES, PARCEL_LINES, PLACES, SHELTERS, Tx
from exchange.records.rows.posting import ParcelRow

WEEKS = 6


@dataclass(frozen=True, slots=True)
class RoomInWeek:
    """One week; `kept` counts what should have come by its end [pots]."""

    monday: date
    standing: int
    kept: int


@dataclass(frozen=True, slots=True)
class RoomAhead:
    """Room at all of a household's places.

    Attributes
    ----------
    places : pots there is room for; None where a shelter has no limit [pots]
    """

    weeks: tuple[RoomInWeek, ...]
    places: int | None


def room_ahead(
    tx: Tx, circle_id: int, household_id: int, parcels: Iterable[ParcelRow], today: date
) -> RoomAhead | None:
    """Give the coming weeks; None where the household has named no shelter."""
    own = {place.id for place in PLACES.all(tx, circle_id, household_id=household_id)}
    shelters = SHELTERS.all(tx, circle_id, place_id=own)
    if not shelters:
        return None
    standing = sum(taken_by(BATCHES.all(tx, circle_id, household_id=household_id)).values())
    coming = {
        one.id: one.arrival_from
        for one in parcels
        if one.receiver_household_id == household_id
        and one.state not in ENDED
        and one.arrival_from is not None
    }
    plants: dict[date, int] = {}
    for row in PARCEL_LINES.all(tx, circle_id, parcel_id=set(coming)):
        day = coming[row.parcel_id]
        if day is not None:
            plants[day] = plants.get(day, 0) + row.count
    monday = today - timedelta(days=today.weekday())
    rooms = [one.room_pots for one in shelters]
    limit = None if None in rooms else sum(room or 0 for room in rooms)
    return RoomAhead(
        tuple(_week(monday + timedelta(weeks=n), standing, plants) for n in range(WEEKS)),
        limit,
    )


def _week(monday: date, standing: int, plants: dict[date, int]) -> RoomInWeek:
    sunday = monday + timedelta(days=6)
    kept = sum(count for day, count in plants.items() if day <= sunday)
    return RoomInWeek(monday, standing, kept)
