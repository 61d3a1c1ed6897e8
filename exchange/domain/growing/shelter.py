"""Shelters of a place and the room for pots in them."""

from dataclasses import dataclass
from enum import StrEnum


class ShelterKind(StrEnum):
    """The kinds of shelter, from warmest to coldest."""

    PROPAGATOR = "propagator"
    INDOORS = "indoors"
    HEATED = "heated"
    FROST_FREE = "frost_free"
    COLD = "cold"
    OPEN_GROUND = "open_ground"


@dataclass(frozen=True, slots=True)
class Shelter:
    """One shelter at a place.

    Attributes
    ----------
    room_pots : room for pots in it, or None when not given, which means no limit [pots]
    carried_in : whether pots here can be carried in on a cold night
    """

    place_id: int
    kind: ShelterKind
    room_pots: int | None = None
    carried_in: bool = False
