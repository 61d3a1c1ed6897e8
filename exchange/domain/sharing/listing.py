"""Reading spares one a line, as a gardener types them: "3 rooted Name", or a line of a mail."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.variety import Species

Taken = TypeVar("Taken")

MOST_PLANTS_A_LINE = 1000
"""Most plants one listed spare may hold; the records refuse more (judgement) [plants]."""

MOST_LINES = 200
"""Most lines read from one box (judgement) [lines]."""

LONGEST_LINE = 300
"""Longest line read; no spare needs more to be named (judgement) [characters]."""

_NUMBERS: Mapping[str, int] = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "dozen": 12,
}  # fmt: skip

_MATERIALS: tuple[tuple[str, Material], ...] = (
    (r"un-?rooted(\s+cuttings?)?", Material.UNROOTED),
    (r"rooted(\s+cuttings?)?", Material.ROOTED),
    (r"young\s+plants?|plugs?", Material.YOUNG_PLANT),
    (r"pot\s+(tubers?|roots?)", Material.POT_TUBER),
    (r"divisions?|tubers?", Material.DIVISION),
    (r"clumps?", Material.CLUMP),
    (r"stools?", Material.STOOL),
    (r"rhizomes?|corms?", Material.RHIZOME),
    (r"cuttings?", Material.ROOTED),
)

_RAISED: tuple[tuple[str, Raised], ...] = (
    (r"raised\s+in\s+heat|in\s+heat|heat-?raised", Raised.IN_HEAT),
    (r"raised\s+cool", Raised.COOL),
    (r"hardened\s+off", Raised.HARDENED),
)
# One word may be part of a name; it speaks of the raising only after a comma or in brackets.
_RAISED_SET_OFF: tuple[tuple[str, Raised], ...] = (
    (r"[,;(]\s*(?:in\s+)?heat\b\)?", Raised.IN_HEAT),
    (r"[,;(]\s*cool\b\)?", Raised.COOL),
    (r"[,;(]\s*hardened\b\)?", Raised.HARDENED),
)
_BULLET = re.compile(r"[-‐‑‒–—*•·]\s+|\d{1,3}[.)]\s+(?=\d)")


class TooManyLinesError(ValueError):
    """The box holds more lines than are read at once.

    Attributes
    ----------
    lines : how many there are [lines]
    """

    def __init__(self, lines: int) -> None:
        super().__init__(f"{lines} lines are too many")
        self.lines = lines


@dataclass(frozen=True, slots=True)
class ListedLine:
    """One line that was understood.

    Attributes
    ----------
    number : line number in the box, from 1
    count : plants [plants]
    species, raised : None when the line does not say
    whole : the line without its count, as a name that holds such words would read
    sure : False when the material was guessed from a bare "cuttings" or not given at all, or the
        count may be part of the name
    bare : True when the line says neither how many nor what they are sent as
    """

    number: int
    text: str
    count: int
    material: Material
    species: Species | None
    raised: Raised | None
    name: str
    whole: str
    sure: bool
    bare: bool


@dataclass(frozen=True, slots=True)
class UnreadLine:
    """One line nothing could be made of.

    Attributes
    ----------
    fault : "no name", "count" or "too long"
    """

    number: int
    text: str
    fault: str


def read_lines(text: str) -> tuple[ListedLine | UnreadLine, ...]:
    """Read the lines of a box; empty lines are passed over.

    Raises
    ------
    TooManyLinesError : when there are more than ``MOST_LINES``
    """
    lines = [(number, line.strip(" \t*•·>")) for number, line in enumerate(text.splitlines(), 1)]
    written = [(number, line) for number, line in lines if line]
    if len(written) > MOST_LINES:
        raise TooManyLinesError(len(written))
    return tuple(read_line(number, line) for number, line in written)


def read_line(number: int, line: str) -> ListedLine | UnreadLine:
    """Read one line.

    Parameters
    ----------
    number : its number in the box
    line : not empty
    """
    if len(line) > LONGEST_LINE:
        return UnreadLine(number, line, "too long")
    count, sure_of_count, whole = _take_count(
        _BULLET.sub("", line, count=1) if _BULLET.match(line) else line
    )
    if count is not None and not 1 <= count <= MOST_PLANTS_A_LINE:
        return UnreadLine(number, line, "count")
    raised, rest = _take(whole, _RAISED)
    if raised is None:
        raised, rest = _take_set_off(rest)
    material, rest = _take(rest, _MATERIALS, at_start_or_end=True)
    species, rest = _take_species(rest)
    name = _name_in(rest)
    if not re.search(r"[^\W\d_]", name):
        return UnreadLine(number, line, "no name")
    if len(name) > LONGEST_NAME:
        return UnreadLine(number, line, "too long")
    return ListedLine(
        number=number,
        text=line,
        count=1 if count is None else count,
        material=material or Material.ROOTED,
        species=species,
        raised=raised,
        name=name,
        whole=_name_in(whole),
        sure=material is not None and sure_of_count and not _bare_cuttings(line),
        bare=material is None and count is None,
    )


def _name_in(text: str) -> str:
    name = re.sub(r"^(of|the)\s+", "", text.strip(" ,;:.-'\"‘’“”"), flags=re.IGNORECASE)
    return name.strip(" ,;:-'\"‘’“”()")


def _take_count(line: str) -> tuple[int | None, bool, str]:
    """Give the count, whether it surely is one, and the rest; None where none is written."""
    found = re.match(r"(-?\d+)(?:\s*(?:x|of)\s+|\s*×\s*|\s+)(.*)", line, flags=re.IGNORECASE)
    # Twelve digits at most: a longer number is refused as too large all the same.
    if found:
        return int(found.group(1)[:12]), True, found.group(2)
    word, _, rest = line.partition(" ")
    if rest and word.casefold() in _NUMBERS:
        return _NUMBERS[word.casefold()], True, rest
    trailing = re.fullmatch(r"(.*?\S)(\s*[,:x×-]\s*|\s+)(-?\d+)", line, flags=re.IGNORECASE)
    if trailing:
        return int(trailing.group(3)[:12]), bool(trailing.group(2).strip()), trailing.group(1)
    return None, True, line


def _take_set_off(text: str) -> tuple[Raised | None, str]:
    for pattern, value in _RAISED_SET_OFF:
        found = re.search(pattern, text, flags=re.IGNORECASE)
        if found:
            return value, (text[: found.start()] + " " + text[found.end() :]).strip()
    return None, text


def _take(
    text: str, table: tuple[tuple[str, Taken], ...], *, at_start_or_end: bool = False
) -> tuple[Taken | None, str]:
    for pattern, value in table:
        for shape in (rf"^(?:{pattern})\b[\s,]*", rf"[\s,(]+(?:{pattern})\)?\.?$"):
            found = re.search(shape, text, flags=re.IGNORECASE)
            if found:
                return value, (text[: found.start()] + " " + text[found.end() :]).strip()
        if not at_start_or_end:
            found = re.search(rf"[\s,(]+(?:{pattern})\b\)?", text, flags=re.IGNORECASE)
            if found:
                return value, (text[: found.start()] + " " + text[found.end() :]).strip()
    return None, text


def _bare_cuttings(line: str) -> bool:
    return bool(re.search(r"\bcuttings?\b", line, re.IGNORECASE)) and not re.search(
        r"\b(un-?)?rooted\b", line, re.IGNORECASE
    )


def _take_species(text: str) -> tuple[Species | None, str]:
    text = re.sub(r"^(?:of)\s+", "", text.strip(), flags=re.IGNORECASE)
    for species in Species:
        if species is Species.OTHER:
            continue
        found = re.match(rf"{species.value}s?\b[\s,:]*", text, flags=re.IGNORECASE)
        if found:
            return species, text[found.end() :]
    return None, text
