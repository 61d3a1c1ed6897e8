"""Members' words made fit for print: cleaned, shortened, escaped, and only in glyphs the font has."""

import re
import unicodedata
from xml.sax.saxutils import escape

from exchange.papers.fonts import has_glyph

LONGEST_NAME = 90
"""Names, codes and lines of an address are cut here [characters]."""

LONGEST_TEXT = 500
"""Sentences are cut here [characters]."""

LONGEST_MARK = 12
"""Marks on labels are cut here [characters]."""

_SWAPPED = str.maketrans({"\u202f": "\u00a0", "\u2011": "-", "\u2010": "-", "\t": " ", "\n": " "})
_DROPPED = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
_BREAK = re.compile(r"[ \r\u2028\u2029]+")


def clean(text: str, longest: int = LONGEST_TEXT) -> str:
    """
    Give the text as it can be printed.

    Control and direction marks go, what the font lacks becomes a question mark per run, and what is
    longer than `longest` characters ends in an ellipsis.
    """
    head = unicodedata.normalize("NFC", text[: longest * 4]).translate(_SWAPPED)
    kept: list[str] = []
    for sign in head:
        if unicodedata.category(sign) in _DROPPED:
            continue
        if has_glyph(sign):
            kept.append(sign)
        elif not kept or kept[-1] != "?":
            kept.append("?")
    line = _BREAK.sub(" ", "".join(kept)).strip(" ")
    return line if len(line) <= longest else line[: longest - 1].rstrip() + "…"


def safe(text: str, longest: int = LONGEST_TEXT) -> str:
    """Give the cleaned text, escaped for a paragraph's markup."""
    return escape(clean(text, longest))


def bold(text: str, longest: int = LONGEST_TEXT) -> str:
    """Give the cleaned and escaped text in bold."""
    return f"<b>{safe(text, longest)}</b>"
