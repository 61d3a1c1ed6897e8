"""Numbers of plants as people write them: "x3", "(2)", "half a dozen", "ca. 10", "2 or 3"."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

NUMBER_WORDS: Mapping[str, int] = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20,
    "thirty": 30, "forty": 40, "fifty": 50, "hundred": 100,
}  # fmt: skip
DOZEN = 12
LONGEST_NUMBER = 12
"""Signs of a number that are read; a longer one is refused as too large all the same [characters]."""

_ONE = rf"(?:\d+|{'|'.join(NUMBER_WORDS)})"
_BEFORE = (
    r"(?:ca\.?|circa|c\.|about|approx(?:\.|imately)?|around|roughly|nearly|almost|some|up\s+to|at\s+least|"
    r"at\s+most|max\.?|min\.?|over|under|more\s+than|less\s+than|fewer\s+than|maybe|perhaps|possibly|"
    r"probably|only|just|another|say|[~≈<>≤≥±])"
)
_AFTER = (
    r"(?:\s*-?ish\b|\s*\+(?!\s*\w)|\s*\?|\s+or\s+(?:so|more|less|fewer|thereabouts)\b|\s*(?:at\s+most|at\s+least|"
    r"max|min|approx|roughly|about|maybe|perhaps|probably|possibly)\b)"
)
_VAGUE_WORDS = (
    r"(?:a\s+few|quite\s+a\s+few|few|several|some|(?:a\s+)?couple(?:\s+of)?|(?:a\s+)?pair(?:\s+of)?|lots(?:\s+of)?|"
    r"loads(?:\s+of)?|plenty(?:\s+of)?|a\s+lot(?:\s+of)?|many|(?:a\s+)?handful(?:\s+of)?|dozens(?:\s+of)?|"
    r"hundreds(?:\s+of)?|(?:a|the|\d+|one|two|three)\s+(?:trays?|boxe?s?|bags?|bundles?|pots|lots)\s+of|"
    r"a\s+number\s+of|spare\s+few|half|most|all|both)"
)
_FORMS: tuple[tuple[str, str], ...] = (
    ("vague", rf"{_BEFORE}\s*{_ONE}(?:\s*(?:-|–|to|or|/)\s*{_ONE})?(?!\w)"),
    ("vague", rf"{_ONE}\s*(?:-|–|—|/|\bto\b|\bor\b)\s*{_ONE}(?!\w)"),
    ("vague", r"\d+[.,]\d+(?!\w)|\d*\s*[½¼¾⅓⅔]"),
    ("vague", rf"(?<!\w){_ONE}{_AFTER}"),
    ("vague", rf"a\s+good\s+(?:half\s+(?:a\s+)?)?(?:dozen|{_ONE})(?!\w)"),
    ("vague", r"(?:a\s+)?half[\s-]+(?:a\s+)?dozen\s+or\s+so"),
    ("vague", r"(?:a\s+)?dozen(?:\s+or\s+so|ish)"),
    ("half", r"(?:a\s+)?half[\s-]+(?:a\s+)?dozen(?:\s+of\b)?"),
    ("dozen", rf"(?:(?:a|{_ONE})\s+)?dozen(?:\s+of\b)?"),
    ("exact", rf"[x×]\s*{_ONE}(?!\w)"),
    ("exact", rf"(?:-(?=\d))?{_ONE}(?:\s*[x×](?=\s|$|[^\w\s]|[A-Z])|\s+of\b)?(?!\w)"),
    ("vague", _VAGUE_WORDS),
    ("a", r"an?(?=\s)"),
)
_PATTERN = re.compile(
    "|".join(f"(?P<k{at}_{kind}>(?<!\\w)(?:{form}))" for at, (kind, form) in enumerate(_FORMS)),
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Number:
    """A number of plants in a text.

    Attributes
    ----------
    value : plants, None where only "a few" is written [plants]
    sure : False for "about 10", "2 or 3", "a few"
    article : whether it is only "a" or "an", which may mean nothing
    """

    start: int
    end: int
    value: int | None
    sure: bool
    article: bool = False


def numbers_in(text: str) -> tuple[Number, ...]:
    """Find every number of a text, in order."""
    return tuple(_number(found) for found in _PATTERN.finditer(text))


def _number(found: re.Match[str]) -> Number:
    kind = (found.lastgroup or "").partition("_")[2]
    said = re.findall(rf"-?\d+|{'|'.join(NUMBER_WORDS)}", found.group().casefold())
    values = [
        NUMBER_WORDS[one] if one in NUMBER_WORDS else int(one[:LONGEST_NUMBER]) for one in said
    ]
    first = values[0] if values else None
    start, end = found.span()
    if kind == "a":
        return Number(start, end, 1, sure=True, article=True)
    if kind == "half":
        return Number(start, end, DOZEN // 2, sure=True)
    if kind == "dozen":
        return Number(start, end, (first or 1) * DOZEN, sure=True)
    return Number(start, end, first, sure=kind == "exact")


def number_at(text: str, at: int) -> Number | None:
    """Give the number that begins at a place of a text."""
    found = _PATTERN.match(text, at)
    return _number(found) if found else None
