"""The chance of losing a variety over one winter.

A place loses all it holds with its own chance c, and each plant alone otherwise: with n plants of survival p,
q = c + (1 - c) (1 - p)^n. Places are taken as independent, so a variety is lost with the product of its places' q.
Every default here is judgement (docs/figures.md).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from exchange.domain.growing.fit import WARM_TO_COLD
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS
from exchange.domain.growing.shelter import Shelter, ShelterKind, stands_as
from exchange.domain.growing.variety import Keeps, Species, Variety

TUBEROUS = frozenset({Species.DAHLIA, Species.TUBEROUS_BEGONIA})
"""Kinds kept over winter as tubers, dry and at rest."""

TUBER_LIVES = {
    Keeps.WELL: Fraction(90, 100),
    Keeps.FAIRLY: Fraction(70, 100),
    Keeps.BADLY: Fraction(40, 100),
}
"""Chance that one tuber lives through the winter."""

TUBER_LIVES_IN_GROUND = {
    Keeps.WELL: Fraction(60, 100),
    Keeps.FAIRLY: Fraction(40, 100),
    Keeps.BADLY: Fraction(15, 100),
}
"""The same of a tuber left in open ground, in mild gardens."""

GREEN_LIVES = {
    Species.PELARGONIUM: (85, 85, 80, 20, 2),
    Species.FUCHSIA: (75, 85, 85, 35, 20),
    Species.CHRYSANTHEMUM: (60, 85, 90, 80, 45),
    Species.SALVIA: (70, 80, 75, 35, 30),
    Species.COLEUS: (75, 50, 5, 0, 0),
    Species.FOLIAGE_BEGONIA: (75, 50, 5, 0, 0),
    Species.OTHER: (70, 80, 75, 20, 2),
}
"""Chance that one green plant lives through the winter: indoors, heated, free of frost, cold, in open ground; a
plant of unknown kind takes the least of pelargonium, fuchsia and salvia [in 100]."""

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

_WINTER_ROW = (
    ShelterKind.INDOORS,
    ShelterKind.HEATED,
    ShelterKind.FROST_FREE,
    ShelterKind.COLD,
    ShelterKind.OPEN_GROUND,
)
_WINTERS_AS = {ShelterKind.PROPAGATOR: ShelterKind.HEATED}


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


def winter_shelter(variety: Variety, shelters: Iterable[Shelter]) -> ShelterKind | None:
    """Give the shelter a place would winter the variety in: where a lone plant is lost least, then the warmest."""
    kinds = {stands_as(shelter) for shelter in shelters}
    return min(
        kinds,
        key=lambda kind: (place_loses(holding(variety, 0, kind, 1)), WARM_TO_COLD.index(kind)),
        default=None,
    )


def lives(variety: Variety, shelter: ShelterKind | None) -> Fraction:
    """Give the chance that one plant lives through the winter; where no shelter was given, as on a window sill.

    A begonia of unknown kind has the lesser chance of a tuber and of one grown for its leaves.
    """
    there = shelter or ShelterKind.INDOORS
    if variety.species is Species.BEGONIA:
        return min(_tuber_lives(variety.keeps, there), _green_lives(Species.FOLIAGE_BEGONIA, there))
    if variety.species in TUBEROUS:
        return _tuber_lives(variety.keeps, there)
    return _green_lives(variety.species, there)


def _tuber_lives(keeps: Keeps, shelter: ShelterKind) -> Fraction:
    in_ground = shelter is ShelterKind.OPEN_GROUND
    return (TUBER_LIVES_IN_GROUND if in_ground else TUBER_LIVES)[keeps]


def _green_lives(species: Species, shelter: ShelterKind) -> Fraction:
    return Fraction(GREEN_LIVES[species][_WINTER_ROW.index(_WINTERS_AS.get(shelter, shelter))], 100)


def holding(variety: Variety, place_id: int, shelter: ShelterKind | None, plants: int) -> Holding:
    """Give what a place holds of a variety, with the default chances."""
    fails = UNKNOWN_PLACE_FAILS if shelter is None else PLACE_FAILS[shelter]
    return Holding(place_id, plants, lives(variety, shelter), fails)


def another_home(variety: Variety) -> Holding:
    """Give one plant in one more place of the kind the variety winters in: warm for coleus, else free of frost."""
    warm = variety.species in WAITS_FOR_WARM_NIGHTS
    return holding(variety, 0, ShelterKind.INDOORS if warm else ShelterKind.FROST_FREE, 1)


def place_loses(held: Holding, more: int = 0) -> Fraction:
    """Give the chance that a place, with any further plants, has lost the variety by spring."""
    return held.fails + (1 - held.fails) * (1 - held.lives) ** (held.plants + more)


def variety_lost(holdings: Iterable[Holding]) -> Fraction:
    """Give the chance that every place has lost the variety by spring; certain when nobody holds it."""
    chance = Fraction(1)
    for held in holdings:
        chance *= place_loses(held)
    return chance
