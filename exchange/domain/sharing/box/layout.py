"""The lines of a box: what is quoted, what is signature, what is a mail's own heading, and the bullets before lines."""

import re
from dataclasses import dataclass
from enum import Enum, auto

_BULLET = re.compile(
    r"^(?:[-‐‑‒–—*•·∙◦▪■□☐☑✓✔→○●+]\s+|[•·∙◦▪■□☐☑✓✔→○●*]\s*|\[[ xX]?\]\s*|\(?\d{1,3}[.)](?!\d)\s*(?=\S)|[a-z]\)\s+)+"
)
_NUMBERED = re.compile(r"^\W*\d{1,3}[.)]")
_ATTRIBUTION = re.compile(
    r"^(?:on\b.{4,100}\bwrote|.{2,60}\b(?:wrote|writes))\s*:?$|^-{2,}\s*original\s+message\b",
    re.IGNORECASE,
)
_FORWARD = re.compile(r"\bforwarded\s+(?:message|mail)\b|^begin\s+forwarded\b", re.IGNORECASE)
_MAIL_HEADING = re.compile(r"^(?:from|to|cc|bcc|subject|date|sent|reply-to)\s*:\s", re.IGNORECASE)
_CLOSING = re.compile(
    r"^(?:(?:with\s+)?(?:all\s+(?:the|my)\s+)?(?:best|kind(?:est)?|warm(?:est)?|many)?\s*(?:wishes|regards|thanks|greetings|love|best)|best|"
    r"cheers|yours(?:\s+\w+)?|thank\s+you|thanks\s+(?:again|all|everyone)|see\s+you(?:\s+\w+)?|take\s+care|bye|xx+)[\s,.!]*(?:\w+[\s,.!]*)?$",
    re.IGNORECASE,
)
_DEVICE = re.compile(r"^sent\s+(?:from|with|by)\b|^get\s+\w+\s+for\b", re.IGNORECASE)
_GREETING = re.compile(
    r"^(?:dear|hello|hi|hiya|hey|good\s+(?:morning|evening|afternoon|day)|morning|evening)\b[^\d]{0,40}$",
    re.IGNORECASE,
)
LINES_OF_A_SIGNATURE = 4
"""Most lines after a closing that are taken for its signature (judgement) [lines]."""


class TextPart(Enum):
    """What part of a text a line belongs to."""

    OWN = auto()
    QUOTED = auto()
    FORWARDED = auto()
    SIGNATURE = auto()
    MAIL = auto()


@dataclass(frozen=True, slots=True)
class TextLine:
    """A line of the box that is not empty.

    Attributes
    ----------
    text : as it was written, without what surrounds it
    bare : without bullet or list number
    block : which run of lines without an empty one between it belongs to
    """

    number: int
    text: str
    bare: str
    block: int
    part: TextPart
    listed: bool


def lines_of(text: str) -> tuple[TextLine, ...]:
    """Cut a box into lines that are not empty, and say which part each belongs to."""
    raw = list(enumerate(re.split(r"\r\n|\r|\n|\v|\f|\x85|\u2028|\u2029", text), 1))
    written = [(number, line) for number, line in raw if line.strip(" \t>|\u00a0\ufeff")]
    closing = _closing_at(written)
    found: list[TextLine] = []
    block, last, after = 0, 0, TextPart.OWN
    for number, raw_line in written:
        block += number != last + 1
        last = number
        line = raw_line.replace("\u00a0", " ").replace("\ufeff", "")
        quoted = re.match(r"\s*(?:>\s*)+(?!\d)|\s*(?:>\s+)+", line)
        inner = (line[quoted.end() :] if quoted else line).strip(" ")
        if not inner.strip():
            continue
        part = _part(inner, quoted is not None, after)
        if _FORWARD.search(inner):
            after, part = TextPart.FORWARDED, TextPart.MAIL
        elif _ATTRIBUTION.match(inner):
            after, part = TextPart.QUOTED, TextPart.MAIL
        elif part is TextPart.OWN and closing is not None and number >= closing:
            part = TextPart.SIGNATURE
        found.append(
            TextLine(number, inner, _tidy(inner), block, part, bool(_NUMBERED.match(inner)))
        )
    return tuple(found)


def _part(inner: str, quoted: bool, after: TextPart) -> TextPart:
    if _MAIL_HEADING.match(inner) or _DEVICE.match(inner) or _GREETING.match(inner):
        return TextPart.MAIL
    if after is TextPart.FORWARDED:
        return TextPart.FORWARDED
    return TextPart.QUOTED if quoted else after


def _closing_at(written: list[tuple[int, str]]) -> int | None:
    """Give the number of the line with which a signature begins."""
    for at, (number, line) in enumerate(written):
        if line.rstrip() == "--":
            return number
        if _CLOSING.match(line.strip()) and len(written) - at - 1 <= LINES_OF_A_SIGNATURE:
            return number
    return None


def _tidy(line: str) -> str:
    """Take bullets off, and make wide gaps the tabs they stand for."""
    bare = _BULLET.sub("", line, count=1).strip(" ") or line
    return re.sub(r"(?<=\S) {3,}(?=\S)", "\t", bare)
