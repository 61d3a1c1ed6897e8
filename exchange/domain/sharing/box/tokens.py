"""A covered line cut into tokens: numbers, materials, raisings, kinds, names, sizes, marks and other words."""

import re
from dataclasses import dataclass
from enum import Enum, auto

from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.names import is_cover
from exchange.domain.sharing.box.numbers import Number, number_at
from exchange.domain.sharing.box.plant_words import (
    MATERIAL_WORDS,
    RAISED_WORDS,
    SPECIES_WORDS,
    species_of,
)

_MONTH = r"(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?"
_SIZE = re.compile(
    r"(?:in\s+)?\d{1,4}(?:[.,]\d{1,3})?\s*-?(?:cm|mm|inch(?:es)?|in\.|ltr|litres?|l|ml|years?|yrs?|weeks?|months?|%)(?!\w)"
    r"(?:[\s-]*(?:pots?|tall|high|old|cells?|modules?)\b)*|"
    r"[£€$]\s*\d{1,4}(?:[.,]\d{1,2})?(?:\s+each\b)?|"
    rf"\b(?:ready|from|by|until|till|after|before|on|in)\s+(?:the\s+)?(?:\d{{1,2}}(?:st|nd|rd|th)?\s+(?:of\s+)?{_MONTH}(?:\s+\d{{4}})?|"
    rf"{_MONTH}|\d{{1,2}}\.\d{{1,2}}\.(?:\d{{2,4}})?|\d{{4}}-\d\d-\d\d)(?!\w)",
    re.IGNORECASE,
)
_NUMBERED = re.compile(r"(?:no\.|nr\.|#)\s*\d{1,6}(?!\w)", re.IGNORECASE)
_MATERIAL = re.compile(rf"(?:{MATERIAL_WORDS})(?!\w)", re.IGNORECASE)
_RAISED = re.compile(rf"(?:{RAISED_WORDS})(?!\w)", re.IGNORECASE)
_SPECIES = re.compile(rf"(?:{SPECIES_WORDS})(?!\w)", re.IGNORECASE)
_MARK = re.compile(r"[,;:\t|()\[\]=]|\.{2,}|…|[-–—](?=\s|$)|[–—]|\.(?=\s|$)|!")
_WORD = re.compile(r"[^\s,;:()\[\]|=]+?(?=[\s,;:()\[\]|=!–—\ue000-\ue03f]|\.(?:\s|$)|\.{2}|$)")


class TokenKind(Enum):
    """What a token is."""

    NUMBER = auto()
    MATERIAL = auto()
    RAISED = auto()
    SPECIES = auto()
    NAME = auto()
    SIZE = auto()
    MARK = auto()
    WORD = auto()


@dataclass(frozen=True, slots=True)
class Token:
    """A part of a line.

    Attributes
    ----------
    number : for a number
    species : for a word that names a kind of plant
    """

    part: TokenKind
    text: str
    start: int
    end: int
    number: Number | None = None
    species: Species | None = None


def tokens_of(text: str) -> tuple[Token, ...]:
    """Cut a covered line into tokens."""
    found: list[Token] = []
    at = 0
    while at < len(text):
        if text[at].isspace() and text[at] != "\t":
            at += 1
            continue
        token = _token_at(text, at)
        found.append(token)
        at = token.end
    return tuple(found)


def _token_at(text: str, at: int) -> Token:
    if is_cover(text[at]):
        return Token(TokenKind.NAME, text[at], at, at + 1)
    begins = at == 0 or not text[at - 1].isalnum()
    if begins and (sized := _SIZE.match(text, at)):
        return Token(TokenKind.SIZE, sized.group(), at, sized.end())
    if begins and (numbered := _NUMBERED.match(text, at)):
        return Token(TokenKind.WORD, numbered.group(), at, numbered.end())
    if begins and (number := number_at(text, at)):
        return Token(TokenKind.NUMBER, text[at : number.end], at, number.end, number)
    for part, pattern in (
        (TokenKind.MATERIAL, _MATERIAL),
        (TokenKind.RAISED, _RAISED),
        (TokenKind.SPECIES, _SPECIES),
    ):
        said = pattern.match(text, at) if begins else None
        if said:
            kind = species_of(said.group()) if part is TokenKind.SPECIES else None
            return Token(part, said.group(), at, said.end(), species=kind)
    mark = _MARK.match(text, at)
    if mark:
        return Token(TokenKind.MARK, mark.group(), at, mark.end())
    word = _WORD.match(text, at)
    end = word.end() if word else at + 1
    return Token(TokenKind.WORD, text[at:end], at, end)
