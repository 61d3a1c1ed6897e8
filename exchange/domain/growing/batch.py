"""A batch: plants of one variety, kind and origin standing in one place."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from exchange.domain.growing.shelter import ShelterKind


class Material(StrEnum):
    """What plants are sent as."""

    UNROOTED = "unrooted"
    ROOTED = "rooted"
    YOUNG_PLANT = "young_plant"
    POT_TUBER = "pot_tuber"
    DIVISION = "division"
    CLUMP = "clump"
    STOOL = "stool"
    RHIZOME = "rhizome"
    SEED = "seed"


GREEN = frozenset({Material.UNROOTED, Material.ROOTED, Material.YOUNG_PLANT})
RESTING = frozenset(
    {Material.POT_TUBER, Material.DIVISION, Material.CLUMP, Material.STOOL, Material.RHIZOME}
)


class Raised(StrEnum):
    """How the plants were raised."""

    IN_HEAT = "in_heat"
    COOL = "cool"
    HARDENED = "hardened"


@dataclass(frozen=True, slots=True)
class Batch:
    """Living plants of one variety, kind and origin in one place.

    Attributes
    ----------
    plants : how many are alive [plants]
    """

    id: int
    variety_id: int
    household_id: int
    place_id: int
    material: Material
    raised: Raised
    plants: int
    shelter: ShelterKind | None = None
    origin: str = ""
    since: date | None = None
