"""The words of the circle with what they mean: the tables of docs/glossary.md that are for members."""

import re
from functools import cache

from exchange.paths import GLOSSARY

_FOR_MEMBERS = re.compile(
    r"^## (.+)\n\n\| word \| what it means here \|\n\| --- \| --- \|\n((?:\|.*\n)+)", re.MULTILINE
)
_ROW = re.compile(r"^\| (.+?) \| (.+) \|$", re.MULTILINE)


@cache
def glossary() -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """Give the sections of the page "Words we use", each with its (word, meaning) pairs."""
    text = GLOSSARY.read_text(encoding="utf-8")
    return tuple(
        (heading, tuple(_ROW.findall(rows))) for heading, rows in _FOR_MEMBERS.findall(text)
    )
