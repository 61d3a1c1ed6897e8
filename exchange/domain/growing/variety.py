"""A variety: a cultivar the circle grows."""

from dataclasses import dataclass
from enum import StrEnum


class Species(StrEnum):
    """The kinds of plant for which the craft has figures; OTHER takes the most careful ones."""

    DAHLIA = "dahlia"
    PELARGONIUM = "pelargonium"
    FUCHSIA = "fuchsia"
    CHRYSANTHEMUM = "chrysanthemum"
    SALVIA = "salvia"
    COLEUS = "coleus"
    BEGONIA = "begonia"
    OTHER = "other"


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
