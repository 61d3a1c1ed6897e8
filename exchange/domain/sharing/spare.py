"""A spare: plants a household can give away."""

from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.batch import Material, Raised


@dataclass(frozen=True, slots=True)
class Spare:
    """Plants of one variety and material that one household offers.

    Attributes
    ----------
    count : how many plants are offered [plants]
    ready_from : first day on which they can be posted (unrooted: can be cut)
    send_by : last day on which they should be posted
    set_aside_for : household they are set aside for, outside the share-out, or None
    roots_seen : "rooted" or "eye seen" has been ticked
    """

    id: int
    household_id: int
    place_id: int
    variety_id: int
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    set_aside_for: int | None = None
    roots_seen: bool = False
