"""Words of a line for what plants are sent as, how they were raised and which kind they are."""

import re

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species

_WELL = r"(?:(?:well|freshly|newly|nicely|strongly|fully|good|strong)[\s-]+)?"
_MATERIALS: tuple[tuple[str, Material | None], ...] = (
    (r"(?:un-?)?rooted\s+(?:or|and|/|&)\s+(?:un-?)?rooted", None),
    (r"(?:not|barely|hardly|half|nearly|almost|just|partly)\s+(?:yet\s+)?(?:well\s+)?(?:un-?)?rooted(?:\s+yet)?", None),
    (r"(?:no|without|few)\s+roots?(?:\s+yet)?|rooting|callus\w*|calloused", None),
    (r"un-?rooted(?:\s+(?:cuttings?|tips?|slips?|plants?))?|cuttings?\s+un-?rooted", Material.UNROOTED),
    (rf"{_WELL}rooted(?:\s+(?:cuttings?|tips?|slips?|plants?))?|cuttings?\s+rooted", Material.ROOTED),
    (r"young\s+plants?|plugs?(?:\s+plants?)?", Material.YOUNG_PLANT),
    (r"pot[\s-]+(?:tubers?|roots?)", Material.POT_TUBER),
    (r"divisions?", Material.DIVISION),
    (r"clumps?", Material.CLUMP),
    (r"stools?", Material.STOOL),
    (r"rhizomes?|corms?", Material.RHIZOME),
    (r"(?:packets?\s+of\s+)?seeds?|seedlings?", Material.SEED),
)  # fmt: skip
_WEAK = r"cuttings?|tubers?|roots?|bulbs?|slips?|tips?|pieces?|plantlets?|starts?|offsets?"
_SURE_RAISED: tuple[tuple[str, Raised], ...] = (
    (r"(?:raised\s+)in\s+heat|heat[\s-]+raised|in\s+heat", Raised.IN_HEAT),
    (r"raised\s+cool|cool[\s-]+raised", Raised.COOL),
    (r"hardened\s+off", Raised.HARDENED),
)
# One word may be part of a name; it speaks of the raising only where it stands alone.
_ALONE: tuple[tuple[str, Raised], ...] = (
    (r"heat|in heat", Raised.IN_HEAT),
    (r"cool", Raised.COOL),
    (r"hardened", Raised.HARDENED),
)
_RAISING_HINTS = (
    r"(?:not|un|half|nearly|being|partly|to\s+be)[\s-]*hardened(?:\s+off)?|hardening(?:\s+off)?|heated(?:\s+\w+)?|heat|"
    r"propagator|window-?\s?sill|cold\s+frame|cold\s+(?:green)?house|(?:cool\s+)?greenhouse|polytunnel|conservatory|"
    r"indoors|outdoors|outside|kitchen|warm|not\s+(?:raised\s+)?in\s+heat|no\s+heat|unheated"
)
_SPECIES: tuple[tuple[str, Species], ...] = (
    (r"tuberous\s+begonias?", Species.TUBEROUS_BEGONIA),
    (r"(?:foliage|rex|leaf)\s+begonias?", Species.FOLIAGE_BEGONIA),
    (r"dahlias?", Species.DAHLIA),
    (r"pelargoniums?|pelargs?", Species.PELARGONIUM),
    (r"fuchsias?", Species.FUCHSIA),
    (r"chrysanthemums?|chrysanths?", Species.CHRYSANTHEMUM),
    (r"salvias?", Species.SALVIA),
    (r"coleus(?:es)?", Species.COLEUS),
    (r"begonias?", Species.BEGONIA),
)


def material_of(text: str) -> tuple[Material | None, bool] | None:
    """Read words that say nothing but what is sent; None where they are other words.

    Returns
    -------
    the material, None where it must be asked, and whether the words alone decide it
    """
    for pattern, material in _MATERIALS:
        if re.fullmatch(pattern, text, re.IGNORECASE):
            return material, True
    return (None, False) if re.fullmatch(_WEAK, text, re.IGNORECASE) else None


def raised_of(text: str, *, alone: bool) -> tuple[Raised | None] | None:
    """Read words that say nothing but how plants were raised; None inside where it must be asked."""
    for pattern, raised in _SURE_RAISED + (_ALONE if alone else ()):
        if re.fullmatch(pattern, text, re.IGNORECASE):
            return (raised,)
    return (None,) if re.fullmatch(_RAISING_HINTS, text, re.IGNORECASE) else None


def species_of(text: str) -> Species | None:
    """Read a word that names a kind of plant."""
    for pattern, species in _SPECIES:
        if re.fullmatch(pattern, text, re.IGNORECASE):
            return species
    return None


MATERIAL_WORDS = "|".join([*(pattern for pattern, _value in _MATERIALS), _WEAK])
RAISED_WORDS = "|".join([_RAISING_HINTS, *(p for p, _v in _SURE_RAISED), *(p for p, _v in _ALONE)])
SPECIES_WORDS = "|".join(pattern for pattern, _value in _SPECIES)
