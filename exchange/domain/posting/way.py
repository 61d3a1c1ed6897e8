"""A way of sending: a postal service, or by hand."""

from dataclasses import dataclass
from datetime import time
from enum import StrEnum


class Carriage(StrEnum):
    """Who carries the parcel."""

    POST = "post"
    BY_HAND = "by_hand"


@dataclass(frozen=True, slots=True)
class Way:
    """A way of sending.

    Attributes
    ----------
    odds : Dirichlet weights: the i-th for delivery on the (i+1)-th delivery day after posting [parcels];
        empty for by hand
    hand_over_weekdays, delivery_weekdays : weekdays of taking in and of delivery, 0 = Monday
    cut_off : latest time of day for handing over
    postage : postage of one parcel, or None when no tariff was typed in [smallest coin]
    depot_offset_c : how much warmer than the screen minimum an unheated depot is by night [K]
    via_place_id : place, or number of the route point, whose air the depots have after the first
        night, or None for the receiver's
    source : where the odds come from, or the word judgement
    """

    id: int
    name: str
    country: str
    carriage: Carriage
    odds: tuple[float, ...]
    hand_over_weekdays: frozenset[int] = frozenset(range(5))
    delivery_weekdays: frozenset[int] = frozenset(range(6))
    cut_off: time = time(16)
    postage: int | None = None
    depot_offset_c: float = 2.0
    quick: bool = True
    source: str = ""
    via_place_id: int | None = None
