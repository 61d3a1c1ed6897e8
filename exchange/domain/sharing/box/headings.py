"""Lines that stand over others: "Clumps:", "These are promised:", "Wanted:", or something that is not understood."""

import re
from dataclasses import dataclass
from enum import Enum, auto

from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.doubts import none_left, promised, says_no, uncertain, wish
from exchange.domain.sharing.box.phrase import Phrase

_OFFERS = re.compile(
    r"\b(?:spares?|offers?|offering|give\s+away|let\s+you\s+have|available|list|here\s+(?:is|are)|share)\b",
    re.IGNORECASE,
)
WANTED = re.compile(
    r"(?:wanted|wants|wishes|wish\s+list|looking\s+for|i\s+would\s+like)[\s.!-]*", re.IGNORECASE
)
_BEFORE = re.compile(
    r"\b(?:above|all\s+of\s+(?:these|those|them)|the\s+last|the\s+first|those|these)\b",
    re.IGNORECASE,
)


class Over(Enum):
    """What a heading says of the lines under it."""

    SPARES = auto()
    WISHES = auto()
    NONE = auto()
    PROMISED = auto()
    UNCLEAR = auto()


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading.

    Attributes
    ----------
    material : what the plants under it are sent as, where it says so
    backwards : whether it speaks of the lines above it
    """

    over: Over
    material: Material | None = None
    species: Species | None = None
    backwards: bool = False


def heading_of(text: str, phrase: Phrase) -> Heading | None:
    """Read a line as a heading; None where it is none.

    Parameters
    ----------
    text : the line
    phrase : the same, read by itself
    """
    colon = text.rstrip().endswith(":")
    if phrase.known or phrase.numbers:
        return None
    over_plants = not phrase.name and not phrase.rest
    if over_plants and (phrase.said_material or phrase.species):
        return Heading(Over.SPARES, phrase.material, phrase.species)
    back = bool(_BEFORE.search(text))
    if not colon and not phrase.said_material and WANTED.fullmatch(text.strip()):
        return Heading(Over.WISHES)
    if not colon:
        if back and (promised(text) or none_left(text, counted=False)):
            over = Over.PROMISED if promised(text) else Over.NONE
            return Heading(over, backwards=True)
        return None
    return Heading(_over(text), phrase.material, phrase.species)


def _over(text: str) -> Over:
    negative = says_no(text) or none_left(text, counted=False)
    if promised(text):
        return Over.UNCLEAR if negative else Over.PROMISED
    if wish(text):
        return Over.WISHES
    if none_left(text, counted=False):
        return Over.NONE
    if _OFFERS.search(text) and not negative and not uncertain(text):
        return Over.SPARES
    return Over.UNCLEAR
