"""The usual cautions for what comes in a parcel, and the authority to ask.

The program states what is usual and names whom to ask; it never rules and never diagnoses.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import BEGONIAS, Species
from exchange.domain.posting.parcel import Line


class CautionKind(StrEnum):
    """What to be careful with."""

    COMPOST = "compost"
    POWDERS = "powders"
    KNIFE = "knife"
    SAP = "sap"
    PETS = "pets"
    APART = "apart"


class Authority(StrEnum):
    """Who knows for certain."""

    APHA = "apha"
    SCOTTISH_GOVERNMENT = "scottish_government"
    DAERA = "daera"
    IRISH_AGRICULTURE = "irish_agriculture"
    USDA_APHIS = "usda_aphis"
    NATIONAL_PLANT_HEALTH = "national_plant_health"
    DOCTOR = "doctor"
    VET = "vet"
    PACKET = "packet"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution, and the authority to ask where one applies."""

    kind: CautionKind
    authority: Authority | None = None


SAP_IRRITATES = frozenset({Species.DAHLIA, Species.CHRYSANTHEMUM, Species.PELARGONIUM})
"""Their sap can irritate skin: common knowledge among growers, from memory."""

PETS_SHOULD_NOT_EAT = frozenset(
    {Species.DAHLIA, Species.CHRYSANTHEMUM, Species.PELARGONIUM, Species.COLEUS, *BEGONIAS}
)
"""Dahlia: https://dogcare.dailypuppy.com/dahlias-poisonous-dogs-6001.html; the others from memory."""

_CUT = frozenset({Material.UNROOTED, Material.DIVISION, Material.CLUMP})

_BY_SUBDIVISION = {
    ("GB", "SCT"): Authority.SCOTTISH_GOVERNMENT,
    ("GB", "NIR"): Authority.DAERA,
}
_BY_COUNTRY = {
    "GB": Authority.APHA,
    "IE": Authority.IRISH_AGRICULTURE,
    "US": Authority.USDA_APHIS,
}


def plant_health_authority(country: str, subdivision: str = "") -> Authority:
    """Name the plant health service of a place; names from memory, the national one where unknown."""
    known = _BY_SUBDIVISION.get((country, subdivision)) or _BY_COUNTRY.get(country)
    return known or Authority.NATIONAL_PLANT_HEALTH


def cautions(lines: Iterable[Line], country: str, subdivision: str = "") -> tuple[Caution, ...]:
    """
    Give the cautions for what is in the parcel, compost first.

    Parameters
    ----------
    lines : what is in the parcel
    country, subdivision : where it is received, by ISO 3166-1 code and holiday code
    """
    there = list(lines)
    species = {line.species for line in there if line.material is not Material.SEED}
    cut = any(line.material in _CUT for line in there)
    found = [Caution(CautionKind.COMPOST, Authority.DOCTOR)]
    if cut:
        found += [
            Caution(CautionKind.KNIFE),
            Caution(CautionKind.POWDERS, Authority.PACKET),
        ]
    if species & SAP_IRRITATES:
        found.append(Caution(CautionKind.SAP))
    if species & PETS_SHOULD_NOT_EAT:
        found.append(Caution(CautionKind.PETS, Authority.VET))
    found.append(Caution(CautionKind.APART, plant_health_authority(country, subdivision)))
    return tuple(found)
