"""A claim: a household would like a number of plants of a variety."""

from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.batch import Material

USUAL_MATERIALS = frozenset(
    {Material.ROOTED, Material.YOUNG_PLANT, Material.POT_TUBER, Material.DIVISION}
)


@dataclass(frozen=True, slots=True)
class Claim:
    """What one household would like.

    Attributes
    ----------
    asked : how many plants [plants]
    choice : first (1), second (2) or third (3) choice
    materials : what it takes them as
    no_use_after : last day on which a plant is still of use, or None
    alternatives : varieties taken instead, in order of preference
    """

    id: int
    household_id: int
    place_id: int
    variety_id: int
    asked: int = 1
    choice: int = 1
    materials: frozenset[Material] = USUAL_MATERIALS
    no_use_after: date | None = None
    alternatives: tuple[int, ...] = ()
