"""Known names inside a line: covered, so that no word or number of a name is read as something else."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from exchange.domain.growing.names import LONGEST_NAME, fold

COVER = 0xE000
"""First of the private signs that stand for covered names [code point]."""

MOST_COVERED = 64
"""Most names covered in one line (judgement) [names]."""

_START = re.compile(r"(?<![\w'’])[\w]")
_FIRST = re.compile(r"[^\s,;:()\[\]|/+&‐‑‒–—―−-]+")
_END = re.compile(r"(?<=[\w)])(?!\w)|(?<=[\w]\.)(?!\w)")
_QUOTED = re.compile(r"(?<![\w])[‘'\"“„«`]([^‘'\"“”„«»`,;]{2,60})['’\"”“»`](?!\w)")


@dataclass(frozen=True, slots=True)
class Names:
    """Names of the circle, ready to be looked for."""

    folded: frozenset[str]
    first: frozenset[str]


def known_names(names: Iterable[str]) -> Names:
    """Make names ready to be looked for in lines."""
    folded = frozenset(fold(one) for one in names if fold(one))
    return Names(folded, frozenset(_first(one) for one in folded))


@dataclass(frozen=True, slots=True)
class Covered:
    """A line in which single signs stand for names.

    Attributes
    ----------
    names : what the signs stand for, in order of the signs
    known : how many of them, from the first, the circle knows; the others stood in quotation marks
    """

    text: str
    names: tuple[str, ...]
    known: int

    def uncovered(self, text: str) -> str:
        """Put the names back into a part of the line."""
        return "".join(self.names[ord(one) - COVER] if is_cover(one) else one for one in text)


def is_cover(sign: str) -> bool:
    """Say whether a sign stands for a name."""
    return COVER <= ord(sign) < COVER + MOST_COVERED


def cover(line: str, known: Names) -> Covered:
    """Cover every known name, the longest first, then what stands in quotation marks."""
    line = "".join(" " if is_cover(one) else one for one in line)
    names: list[str] = []
    parts: list[str] = []
    at = 0
    for start in (found.start() for found in _START.finditer(line)):
        end = _longest(line, start, known) if start >= at and len(names) < MOST_COVERED else 0
        if end:
            parts += [line[at:start].rstrip("'\"‘“„"), chr(COVER + len(names))]
            if line[at:start].endswith(("'", '"', "‘", "“", "„")):
                while end < len(line) and line[end] in "'\"’”“":
                    end += 1
            names.append(line[start:end].strip("'\"’”“"))
            at = end
    text = "".join([*parts, line[at:]])
    count = len(names)

    def quoted(found: re.Match[str]) -> str:
        inside = found.group(1)
        if len(names) >= MOST_COVERED or any(is_cover(one) for one in inside):
            return found.group()
        names.append(inside.strip())
        return chr(COVER + len(names) - 1)

    return Covered(_QUOTED.sub(quoted, text), tuple(names), count)


def _longest(line: str, start: int, known: Names) -> int:
    """Give where the longest known name that begins here ends, 0 where none does."""
    if _first(fold(line[start : start + LONGEST_NAME])) not in known.first:
        return 0
    window = line[start : start + LONGEST_NAME + 4]
    ends = [found.start() for found in _END.finditer(window) if found.start()]
    return next((start + end for end in reversed(ends) if fold(window[:end]) in known.folded), 0)


def _first(folded: str) -> str:
    found = _FIRST.match(folded)
    return found.group().rstrip("?!.") if found else ""
