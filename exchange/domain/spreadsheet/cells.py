"""What single cells say: days, choices, marks, names of people."""

import re
from collections.abc import Iterable
from datetime import date

from exchange.domain.growing.names import one_line

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_ISO = re.compile(r"(\d{4})-(\d\d)-(\d\d)(?:[T ]00:00(?::00)?)?")
_IN_NUMBERS = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d\d)")
_IN_WORDS = re.compile(
    r"(?:[a-z]{3,9},?\s+)?(?:(\d{1,2})(?:st|nd|rd|th)?\s+([a-z]{3,9})\.?|([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?),?\s+(\d{4})",
    re.IGNORECASE,
)
_MARKS = frozenset({"x", "✓", "✔", "✗", "✘", "*", "yes", "y", "ja", "true", "•", "●"})
_CHOICE = re.compile(
    r"(?:(1|1st|first)|(2|2nd|second)|(3|3rd|third))\.?(?:\s+choice)?", re.IGNORECASE
)
_TITLES = frozenset({"mr", "mrs", "ms", "miss", "dr", "sir", "prof", "rev", "fr", "mx"})
_TWO = re.compile(r"\s(?:&|and|\+|und|et|/)\s|&|\+|/", re.IGNORECASE)


def day_first(cells: Iterable[str]) -> bool | None:
    """Say whether days stand first in a column of days in numbers; None where no value settles it.

    A point between the numbers is only used with the day first (common practice, no source).
    """
    first, second, points = False, False, True
    seen = False
    for cell in cells:
        found = _IN_NUMBERS.fullmatch(cell.strip())
        if not found:
            continue
        seen = True
        points = points and found.group(2) == "."
        first = first or int(found.group(1)) > 12
        second = second or int(found.group(3)) > 12
    if seen and points and not second:
        return True
    return first if first is not second else None


def day_in(cell: str, *, days_first: bool | None) -> date | None:
    """Read a day; None where there is none, or where it could be two.

    Parameters
    ----------
    days_first : whether the day stands before the month, None where nobody knows
    """
    text = cell.strip()
    if found := _ISO.fullmatch(text):
        return _day(int(found.group(1)), int(found.group(2)), int(found.group(3)))
    if found := _IN_WORDS.fullmatch(text):
        month = _month(found.group(2) or found.group(3))
        return _day(int(found.group(5)), month, int(found.group(1) or found.group(4)))
    found = _IN_NUMBERS.fullmatch(text)
    if not found:
        return None
    one, two = int(found.group(1)), int(found.group(3))
    year = int(found.group(4)) + (2000 if len(found.group(4)) == 2 else 0)
    if days_first is None:
        return _day(year, one, one) if one == two else None
    return _day(year, two, one) if days_first else _day(year, one, two)


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _month(word: str) -> int:
    short = word[:3].casefold()
    return _MONTHS.index(short) + 1 if short in _MONTHS else 0


def choice_in(cell: str) -> int | None:
    """Read which choice a wish is; None where the cell says something else."""
    found = _CHOICE.fullmatch(cell.strip())
    return found.lastindex if found else None


def is_mark(cell: str) -> bool:
    """Say whether a cell holds a cross or a tick and nothing else."""
    return cell.strip().casefold() in _MARKS


def person_in(cell: str) -> tuple[str, str, bool]:
    """Read the name of one person: first name, surname, and whether that is sure."""
    text = one_line(cell)
    if text.count(",") == 1:
        last, _comma, first = (part.strip() for part in text.partition(","))
        sure = bool(last and first) and not _TWO.search(text)
        return first, last, sure and not _titled(first)
    words = text.split()
    sure = 1 <= len(words) <= 2 and not _titled(text) and not _TWO.search(text)
    return " ".join(words[:-1]) if len(words) > 1 else text, words[-1] if len(words) > 1 else "", sure  # fmt: skip


def is_two_people(cell: str) -> bool:
    """Say whether a name seems to be that of two people."""
    return bool(_TWO.search(cell))


def _titled(text: str) -> bool:
    return any(word.strip(".").casefold() in _TITLES for word in text.split())
