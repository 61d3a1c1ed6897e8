"""Plants, what they are sent as and how they were raised, in the growers' words."""

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from exchange.words.kernel.phrase import NBSP

_SPECIES = {
    Species.DAHLIA: "Dahlia",
    Species.PELARGONIUM: "Pelargonium",
    Species.FUCHSIA: "Fuchsia",
    Species.CHRYSANTHEMUM: "Chrysanthemum",
    Species.SALVIA: "Salvia",
    Species.COLEUS: "Coleus",
    Species.BEGONIA: "Begonia",
    Species.TUBEROUS_BEGONIA: "Tuberous begonia",
    Species.FOLIAGE_BEGONIA: "Foliage begonia",
    Species.OTHER: "",
}
_MATERIALS = {
    Material.UNROOTED: ("unrooted cutting", "unrooted cuttings"),
    Material.ROOTED: ("rooted cutting", "rooted cuttings"),
    Material.YOUNG_PLANT: ("young plant", "young plants"),
    Material.POT_TUBER: ("pot tuber", "pot tubers"),
    Material.DIVISION: ("division", "divisions"),
    Material.CLUMP: ("clump", "clumps"),
    Material.STOOL: ("stool", "stools"),
    Material.RHIZOME: ("rhizome or corm", "rhizomes or corms"),
    Material.SEED: ("packet of seed", "packets of seed"),
}
_RAISED = {
    Raised.IN_HEAT: "raised in heat",
    Raised.COOL: "raised cool",
    Raised.HARDENED: "hardened off",
}
_KEEPS = {Keeps.WELL: "keeps well", Keeps.FAIRLY: "keeps fairly", Keeps.BADLY: "keeps badly"}
_SHELTERS = {
    ShelterKind.PROPAGATOR: "propagator",
    ShelterKind.INDOORS: "indoors",
    ShelterKind.HEATED: "heated greenhouse",
    ShelterKind.FROST_FREE: "frost-free greenhouse",
    ShelterKind.COLD: "cold greenhouse or frame",
    ShelterKind.OPEN_GROUND: "open ground",
}
_IN_SHELTER = {
    ShelterKind.PROPAGATOR: "in the propagator",
    ShelterKind.INDOORS: "indoors",
    ShelterKind.HEATED: "in the heated greenhouse",
    ShelterKind.FROST_FREE: "in the frost-free greenhouse",
    ShelterKind.COLD: "in the cold greenhouse or frame",
    ShelterKind.OPEN_GROUND: "in the open ground",
}
RAISED = frozenset({Material.UNROOTED, Material.ROOTED, Material.YOUNG_PLANT})


def species(value: Species) -> str:
    """Give "Dahlia"; nothing for a plant whose kind is not known."""
    return _SPECIES[value]


def kinds(value: Species) -> str:
    """Give "dahlias"; "others" for plants whose kind is not known."""
    name = species(value).lower()
    if value is Species.COLEUS:
        return name
    return f"{name}s" if name else "others"


def variety(kind: Species, name: str) -> str:
    """Give "Dahlia ‘Chapel Lantern’"; the kind is left out where it is not known."""
    quoted = f"‘{name}’"
    return f"{species(kind)}{NBSP}{quoted}" if species(kind) else quoted


def material(value: Material, count: int = 1) -> str:
    """Give "rooted cutting" or, for any count but one, "rooted cuttings"."""
    one, many = _MATERIALS[value]
    return one if count == 1 else many


def raised(value: Raised) -> str:
    """Give "raised in heat", "raised cool" or "hardened off"."""
    return _RAISED[value]


def sent_as(value: Material, how: Raised, count: int = 1) -> str:
    """Give "rooted cuttings, raised in heat"; resting material says nothing of its raising."""
    noun = material(value, count)
    return f"{noun}, {raised(how)}" if value in RAISED else noun


def some(count: int, value: Material, kind: Species, name: str) -> str:
    """Give "3 rooted cuttings of Dahlia ‘Chapel Lantern’"."""
    return "{count} of {variety}".format(
        count=f"{count}{NBSP}{material(value, count)}", variety=variety(kind, name)
    )


def so_many(count: int, value: Material, kind: Species, name: str, how: Raised) -> str:
    """Give "3 rooted cuttings of Dahlia ‘Chapel Lantern’, raised in heat"."""
    text = some(count, value, kind, name)
    return f"{text}, {raised(how)}" if value in RAISED else text


def instead(text: str, asked_for: str) -> str:
    """Give "1 rooted cutting of ... in place of ..., as your claim allows"; just the text if asked for."""
    if not asked_for:
        return text
    return f"{text}, in place of {asked_for}, as your claim allows"


def keeps(value: Keeps) -> str:
    """Give "keeps well", "keeps fairly" or "keeps badly"."""
    return _KEEPS[value]


def shelter(value: ShelterKind) -> str:
    """Give "frost-free greenhouse"."""
    return _SHELTERS[value]


def in_shelter(value: ShelterKind) -> str:
    """Give "in the frost-free greenhouse"."""
    return _IN_SHELTER[value]
