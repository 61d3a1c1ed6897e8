"""Whether giving plants away would leave their holder none, or the circle without its only plant."""

from dataclasses import dataclass
from enum import StrEnum

from exchange.domain.growing.batch import Material


class LastPlant(StrEnum):
    """Why somebody is asked before plants are listed."""

    ONLY_ONE = "only one"
    HOLDER_KEEPS_NONE = "holder keeps none"


@dataclass(frozen=True, slots=True)
class PlantsKept:
    """Living plants of a variety that are written down.

    Attributes
    ----------
    unlisted : its holder's, without those listed as spares already [plants]
    in_circle : everybody's [plants]
    """

    unlisted: int
    in_circle: int


def last_plant(kept: PlantsKept, count: int, material: Material) -> LastPlant | None:
    """Say whether somebody has to be asked before so many plants are listed, and why.

    An unrooted cutting leaves its plant where it was. Where nothing at all is written down, nothing is
    known to be left, but one single plant is the only one known.

    Parameters
    ----------
    count : plants to be listed [plants]
    """
    if material is Material.UNROOTED:
        return None
    if kept.in_circle == 0:
        return LastPlant.ONLY_ONE if count == 1 else None
    if kept.unlisted == 0 or count < kept.unlisted:
        return None
    return LastPlant.ONLY_ONE if kept.in_circle == 1 else LastPlant.HOLDER_KEEPS_NONE
