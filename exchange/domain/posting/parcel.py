"""A parcel: allocations from one household to one place that travel together."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import Knowledge


class ParcelState(StrEnum):
    """Where a parcel stands."""

    PLANNED = "planned"
    ANNOUNCED = "announced"
    POSTED = "posted"
    ARRIVED = "arrived"
    LOST = "lost"
    RETURNED = "returned"


OPEN = frozenset({ParcelState.PLANNED, ParcelState.ANNOUNCED})
"""States of a parcel that is still to go."""
WITH_SENDER = frozenset({ParcelState.PLANNED, ParcelState.ANNOUNCED, ParcelState.RETURNED})
"""States in which the plants are with whoever sends them: not gone yet, or come back."""
ENDED = frozenset({ParcelState.ARRIVED, ParcelState.LOST, ParcelState.RETURNED})
"""States of a parcel whose journey is over."""
NOT_COME = frozenset({ParcelState.LOST, ParcelState.RETURNED})
"""States of one whose journey ended elsewhere than with its receiver."""


@dataclass(frozen=True, slots=True)
class Line:
    """One allocation inside a parcel.

    Attributes
    ----------
    count : plants [plants]
    pots : room each plant takes at the receiver's [pots]
    """

    allocation_id: int
    spare_id: int
    variety_id: int
    species: Species
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    must_not_be_lost: bool = False


@dataclass(frozen=True, slots=True)
class Parcel:
    """A parcel to plan.

    Attributes
    ----------
    code : a hedge plant and a number, unique in the circle's season
    announced_day, announced_way_id : the day and way the members were told, or None
    announced_loss : chance of loss of the line most in danger as it was announced, None where not known
    by_person : whether a person chose the announced day
    known : what the forecasts told when the announced day was last weighed, None where not kept
    poster_household_id : another household that posts it for the sender, or None
    chosen_way_id : way fixed by the organiser, or None for any
    """

    id: int
    code: str
    sender_household_id: int
    sender_place_id: int
    receiver_household_id: int
    receiver_place_id: int
    lines: tuple[Line, ...]
    state: ParcelState = ParcelState.PLANNED
    announced_day: date | None = None
    announced_way_id: int | None = None
    chosen_way_id: int | None = None
    posted_on: date | None = None
    waiting_since: date | None = None
    announced_loss: float | None = None
    by_person: bool = False
    known: Knowledge | None = None
    poster_household_id: int | None = None

    @property
    def posted_by(self) -> int:
        """The household that posts it: its sender's, or another that took it over."""
        return self.poster_household_id or self.sender_household_id
