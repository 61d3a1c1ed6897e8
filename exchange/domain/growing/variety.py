"""A variety: a cultivar the circle grows."""

from dataclasses import dataclass
from enum import StrEnum


class Species(StrEnum):
    """The kinds of plant for which the craft has figures; OTHER takes the most careful ones.

    BEGONIA is one of which nobody has said whether it grows from a tuber or for its leaves.
    """

    DAHLIA = "dahlia"
    PELARGONIUM = "pelargonium"
    FUCHSIA = "fuchsia"
    CHRYSANTHEMUM = "chrysanthemum"
    SALVIA = "salvia"
    COLEUS = "coleus"
    BEGONIA = "begonia"
    TUBEROUS_BEGONIA = "tuberous_begonia"
    FOLIAGE_BEGONIA = "foliage_begonia"
    OTHER = "other"


BEGONIAS = frozenset({Species.BEGONIA, Species.TUBEROUS_BEGONIA, Species.FOLIAGE_BEGONIA})


class Keeps(StrEnum):
    """How a variety keeps over winter."""

    WELL = "well"
    FAIRLY = "fairly"
    BADLY = "badly"


@dataclass(frozen=True, slots=True)
class Variety:
    """A variety of the circle.

    Attributes
    ----------
    name : the epithet as its growers write it, without quotes
    must_not_be_lost : the mark set by a holder or the organiser
    target_places : in how many places it should stand [places]
    protected : growers say breeders' rights may apply; the spare is held and the authority named
    """

    id: int
    species: Species
    name: str
    keeps: Keeps = Keeps.FAIRLY
    must_not_be_lost: bool = False
    must_not_be_lost_because: str = ""
    target_places: int = 3
    protected: bool = False
    authority: str = ""
