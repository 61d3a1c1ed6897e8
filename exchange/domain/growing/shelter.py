"""Shelters of a place: the room for pots in them, and how warm they keep by night.

One table serves posting, fit, care and the winter.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType


class ShelterKind(StrEnum):
    """The kinds of shelter, from warmest to coldest."""

    PROPAGATOR = "propagator"
    INDOORS = "indoors"
    HEATED = "heated"
    FROST_FREE = "frost_free"
    COLD = "cold"
    OPEN_GROUND = "open_ground"


HOLDS_C: Mapping[ShelterKind, float] = MappingProxyType(
    {
        ShelterKind.PROPAGATOR: 18.0,
        ShelterKind.INDOORS: 14.0,
        ShelterKind.HEATED: 8.0,
        ShelterKind.FROST_FREE: 3.0,
        ShelterKind.COLD: -math.inf,
        ShelterKind.OPEN_GROUND: -math.inf,
    }
)
"""The temperature that a shelter's warmth holds on any night, by judgement [degrees C]."""

ADDS_K: Mapping[ShelterKind, float] = MappingProxyType(
    dict.fromkeys(ShelterKind, 1.5) | {ShelterKind.OPEN_GROUND: 0.0}
)
"""How much milder it stays under glass than at screen height outside, by judgement [K]."""

CARRIED_IN_AS = ShelterKind.FROST_FREE
"""What pots that are carried in on a cold night count as, by judgement: a porch or a shed, not a warm room."""


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


def stands_as(shelter: Shelter) -> ShelterKind:
    """Give the kind a shelter counts as: pots carried in on a cold night stand at least free of frost."""
    if shelter.carried_in and HOLDS_C[shelter.kind] < HOLDS_C[CARRIED_IN_AS]:
        return CARRIED_IN_AS
    return shelter.kind
