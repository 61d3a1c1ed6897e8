"""Reading spares one a line, as a gardener types them: "3 rooted Name", or a line of a mail."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.variety import Species

MOST_PLANTS_A_LINE = 1000
"""Most plants one listed spare may hold; the records refuse more (judgement) [plants]."""

MOST_LINES = 200
"""Most lines read from one box (judgement) [lines]."""

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
    (r"raised\s+cool|cool", Raised.COOL),
    (r"hardened(\s+off)?", Raised.HARDENED),
)


@dataclass(frozen=True, slots=True)
class ListedLine:
    """One line that was understood.

    Attributes
    ----------
    number : line number in the box, from 1
    count : plants [plants]
    species, raised : None when the line does not say
    sure : False when the material was guessed from a bare "cuttings" or not given at all
    """

    number: int
    text: str
    count: int
    material: Material
    species: Species | None
    raised: Raised | None
    name: str
    sure: bool


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
    """Read the lines of a box, at most ``MOST_LINES`` of them; empty lines are passed over."""
    lines = [(number, line.strip(" \t*•·>")) for number, line in enumerate(text.splitlines(), 1)]
    return tuple(read_line(number, line) for number, line in lines if line)[:MOST_LINES]


def read_line(number: int, line: str) -> ListedLine | UnreadLine:
    """Read one line.

    Parameters
    ----------
    number : its number in the box
    line : not empty
    """
    count, rest = _take_count(line)
    if not 1 <= count <= MOST_PLANTS_A_LINE:
        return UnreadLine(number, line, "count")
    raised, rest = _take(rest, _RAISED)
    material, rest = _take(rest, _MATERIALS, at_start_or_end=True)
    sure = material is not None and not _bare_cuttings(line)
    species, rest = _take_species(rest)
    name = re.sub(r"^(of|the)\s+", "", rest.strip(" ,;:.-'\"‘’“”"), flags=re.IGNORECASE)
    name = name.strip(" ,;:-'\"‘’“”()")
    if not re.search(r"[^\W\d_]", name):
        return UnreadLine(number, line, "no name")
    if len(name) > LONGEST_NAME:
        return UnreadLine(number, line, "too long")
    return ListedLine(number, line, count, material or Material.ROOTED, species, raised, name, sure)


def _take_count(line: str) -> tuple[int, str]:
    found = re.match(r"(-?\d+)\s*(?:x|×|of)?\s+(.*)", line, flags=re.IGNORECASE)
    if found:
        return int(found.group(1)[:12]), found.group(2)
    word, _, rest = line.partition(" ")
    if rest and word.casefold() in _NUMBERS:
        return _NUMBERS[word.casefold()], rest
    trailing = re.fullmatch(r"(.*?)[\s,:-]+(?:x|×)?\s*(\d+)", line, flags=re.IGNORECASE)
    return (int(trailing.group(2)[:12]), trailing.group(1)) if trailing else (1, line)


def _take(
    text: str, table: tuple[tuple[str, object], ...], *, at_start_or_end: bool = False
) -> tuple[object | None, str]:
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
