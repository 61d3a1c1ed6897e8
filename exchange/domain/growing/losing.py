"""The chance of losing a variety over one winter.

A place loses all it holds with its own chance c, and each plant alone otherwise: with n plants of survival p,
q = c + (1 - c) (1 - p)^n. Places are taken as independent, so a variety is lost with the product of its places' q.
Every default here is judgement (docs/figures.md).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from exchange.domain.growing.fit import WARM_TO_COLD, stands_as
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Keeps, Species, Variety

TUBEROUS = frozenset({Species.DAHLIA, Species.BEGONIA})
"""Kinds kept over winter as tubers, dry and at rest."""

TUBER_LIVES = {
    Keeps.WELL: Fraction(90, 100),
    Keeps.FAIRLY: Fraction(70, 100),
    Keeps.BADLY: Fraction(40, 100),
}
"""Chance that one tuber lives through the winter."""

GREEN_LIVES_FROST_FREE = Fraction(80, 100)
GREEN_LIVES_COLD = Fraction(20, 100)
"""Chance that one green tender plant lives through the winter, free of frost or cold."""

PLACE_FAILS = {
    ShelterKind.PROPAGATOR: Fraction(5, 100),
    ShelterKind.INDOORS: Fraction(3, 100),
    ShelterKind.HEATED: Fraction(5, 100),
    ShelterKind.FROST_FREE: Fraction(7, 100),
    ShelterKind.COLD: Fraction(30, 100),
    ShelterKind.OPEN_GROUND: Fraction(50, 100),
}
"""Chance c that a shelter loses all it holds in one winter."""

UNKNOWN_PLACE_FAILS = Fraction(10, 100)
"""The same where no shelter was given: as an unheated shed."""


@dataclass(frozen=True, slots=True)
class Holding:
    """What one place holds of a variety.

    Attributes
    ----------
    plants : living plants, 0 for a place that would only receive [plants]
    lives : chance p that one plant lives through the winter
    fails : chance c that the place loses all it holds
    """

    place_id: int
    plants: int
    lives: Fraction
    fails: Fraction


def winter_shelter(shelters: Iterable[Shelter]) -> ShelterKind | None:
    """Give the shelter a place would winter its best plants in: the one that fails least, then the warmest."""
    kinds = {stands_as(shelter) for shelter in shelters}
    return min(kinds, key=lambda kind: (PLACE_FAILS[kind], WARM_TO_COLD.index(kind)), default=None)


def holding(variety: Variety, place_id: int, shelter: ShelterKind | None, plants: int) -> Holding:
    """Give what a place holds of a variety, with the default chances."""
    if variety.species in TUBEROUS:
        lives = TUBER_LIVES[variety.keeps]
    elif shelter in (ShelterKind.COLD, ShelterKind.OPEN_GROUND):
        lives = GREEN_LIVES_COLD
    else:
        lives = GREEN_LIVES_FROST_FREE
    fails = UNKNOWN_PLACE_FAILS if shelter is None else PLACE_FAILS[shelter]
    return Holding(place_id, plants, lives, fails)


def place_loses(held: Holding, more: int = 0) -> Fraction:
    """Give the chance that a place, with any further plants, has lost the variety by spring."""
    return held.fails + (1 - held.fails) * (1 - held.lives) ** (held.plants + more)


def variety_lost(holdings: Iterable[Holding]) -> Fraction:
    """Give the chance that every place has lost the variety by spring; certain when nobody holds it."""
    chance = Fraction(1)
    for held in holdings:
        chance *= place_loses(held)
    return chance
