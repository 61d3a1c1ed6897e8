"""What the code of cultivated-plant names advises of an epithet; old names are only warned of.

The rules are those of the International Code of Nomenclature for Cultivated Plants, 9th edition of 2016, told after
https://docslib.org/doc/7727060/plant-naming-pdf (read 26 November 2026): Article 21 on forming epithets.
That quotation marks show an epithet is Article 14, from memory; that a trade designation is no name is Article 13
(https://manuals.ipaustralia.gov.au/trademark/annex-3---applicable-sections-of-the-icncp, read 26 November 2026).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from exchange.domain.growing.names import fold_accents
from exchange.domain.growing.variety import BEGONIAS, Species

LONGEST_EPITHET = 30
"""Longest epithet formed since 1996, without spaces and the quotation marks [characters]."""

MOST_EXCLAMATIONS = 2
"""How many exclamation marks an epithet may have, from memory [characters]."""

_BARRED = frozenset(
    [
        "cultivar",
        "form",
        "grex",
        "group",
        "hybrid",
        "mixture",
        "selection",
        "series",
        "sport",
        "strain",
        "variety",
        "improved",
        "transformed",
    ]
)
_BOASTS = frozenset(
    [
        "best",
        "biggest",
        "earliest",
        "finest",
        "greatest",
        "hardiest",
        "heaviest",
        "largest",
        "longest",
        "sweetest",
        "tallest",
    ]
)
_LATIN = frozenset(
    [
        "alba",
        "albus",
        "album",
        "atropurpurea",
        "aurea",
        "aureum",
        "compacta",
        "fulgens",
        "gigantea",
        "grandiflora",
        "lutea",
        "maculata",
        "maxima",
        "minima",
        "nana",
        "nigra",
        "pendula",
        "plena",
        "purpurea",
        "purpureum",
        "rosea",
        "roseum",
        "rubra",
        "rubrum",
        "sanguinea",
        "variegata",
        "variegatum",
    ]
)
_SIGNS = re.compile(r"[^\w\s'’‘,.!/\\-]")
_OWNED = re.compile("[™®©]")
_CULTIVAR_SIGN = re.compile(r"\bcv\b\.?", re.IGNORECASE)
_GENERA = {Species.OTHER: (), **dict.fromkeys(BEGONIAS, ("begonia",))}


class CodeRule(StrEnum):
    """A rule of the Code that an epithet may break; the value names its article."""

    OWNED = "13 trade designation"
    CULTIVAR_SIGN = "14 cv."
    TOO_LONG = "21 length"
    BARE = "21 letter or number"
    LATIN = "21 Latin"
    GENUS = "21 genus"
    BARRED = "21 word"
    BOAST = "21 superlative"
    SIGNS = "21 punctuation"


@dataclass(frozen=True, slots=True)
class Advice:
    """A rule, and the word of the name it speaks of; empty where it speaks of the whole."""

    rule: CodeRule
    word: str = ""


def advice_on(name: str, species: Species) -> tuple[Advice, ...]:
    """Give what the Code says against an epithet; nothing where it says nothing.

    Parameters
    ----------
    name : the epithet, without quotation marks
    species : whose genus must not stand in it
    """
    return tuple(dict.fromkeys((*_of_signs(name), *_of_the_whole(name), *_of_words(name, species))))


def _of_signs(name: str) -> Iterator[Advice]:
    for sign in _OWNED.findall(name):
        yield Advice(CodeRule.OWNED, sign)
    for sign in _CULTIVAR_SIGN.findall(name):
        yield Advice(CodeRule.CULTIVAR_SIGN, sign)
    for sign in _SIGNS.findall(_OWNED.sub("", name)):
        yield Advice(CodeRule.SIGNS, sign)
    if name.count("!") > MOST_EXCLAMATIONS:
        yield Advice(CodeRule.SIGNS, "!")


def _of_the_whole(name: str) -> Iterator[Advice]:
    letters = "".join(name.split())
    if len(letters) > LONGEST_EPITHET:
        yield Advice(CodeRule.TOO_LONG)
    if len(letters) == 1 or letters.isdecimal():
        yield Advice(CodeRule.BARE)
    words = fold_accents(name).split()
    if words and all(one in _LATIN for one in words):
        yield Advice(CodeRule.LATIN)


def _of_words(name: str, species: Species) -> Iterator[Advice]:
    genera = _GENERA.get(species, (species.value,))
    for word in re.findall(r"\w+", name):
        folded = fold_accents(word)
        singular = folded.removesuffix("s")
        if folded in genera or singular in genera:
            yield Advice(CodeRule.GENUS, word)
        elif {folded, singular} & _BARRED:
            yield Advice(CodeRule.BARRED, word)
        elif folded in _BOASTS:
            yield Advice(CodeRule.BOAST, word)
