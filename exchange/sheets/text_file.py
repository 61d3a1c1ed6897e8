"""A list as text: the signs it is written in, and what parts its cells, counted over its lines."""

import codecs
import csv
from collections import Counter
from dataclasses import dataclass
from io import StringIO

from exchange.sheets.csv_file import plain
from exchange.sheets.refused_file import UnreadableFileError

ENCODINGS = ("utf-8", "cp1252", "cp1250", "mac_roman", "utf-16")
"""Encodings that can be chosen, the usual first."""

DELIMITERS = (",", ";", "\t", "|")
COUNTED_LINES = 50
"""Over how many lines the signs that part cells are counted (judgement) [lines]."""

LINES_IN_A_CELL = 10
"""Most lines of one cell, an address say; more means that a mark was not closed (judgement) [lines]."""

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_LONGEST_FIELD = 1024 * 1024


@dataclass(frozen=True, slots=True)
class TextRead:
    """The cells of a text file.

    Attributes
    ----------
    sure : whether the encoding is sure
    """

    rows: tuple[tuple[str, ...], ...]
    encoding: str
    delimiter: str
    sure: bool


def read_text(content: bytes, encoding: str = "", delimiter: str = "") -> TextRead:
    """Read a text file.

    Parameters
    ----------
    encoding, delimiter : where somebody has said so

    Raises
    ------
    UnreadableFileError
        When it is no text in these signs.
    """
    text, taken, sure = _decoded(content, encoding)
    if "\0" in text or sum(one < " " and one not in "\t\r\n\f\v" for one in text) > 0:
        raise UnreadableFileError("This is neither a text nor a spreadsheet that is known here.")
    lines = text.splitlines()
    if lines and lines[0].lower().startswith("sep=") and len(lines[0]) == 5:
        delimiter = delimiter or lines[0][4]
        text = text[len(lines[0]) :].lstrip("\r\n")
        lead: tuple[tuple[str, ...], ...] = ((),)
    else:
        lead = ()
    parted = delimiter if len(delimiter) == 1 else _delimiter(text)
    found = _rows(text, parted)
    _check_quotes(text, parted, found)
    rows = lead + tuple(tuple(plain(cell.strip()) for cell in row) for row in found)
    return TextRead(rows, taken, parted, sure)


def _decoded(content: bytes, encoding: str) -> tuple[str, str, bool]:
    """Give the text, its encoding and whether that is sure: by its mark, as strict UTF-8, else a guess that is shown."""
    marked = next((name for mark, name in _MARKS if content.startswith(mark)), "")
    wanted = marked or (encoding if encoding in ENCODINGS else "")
    if wanted:
        try:
            named = "utf-8-sig" if wanted == "utf-8" else wanted
            return content.decode(named), wanted, True
        except UnicodeDecodeError as error:
            raise UnreadableFileError("The file is not written in these signs.") from error
    try:
        return content.decode("utf-8"), "utf-8", True
    except UnicodeDecodeError:
        pass
    try:
        return content.decode("cp1252"), "cp1252", False
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace"), "cp1252", False


def _delimiter(text: str) -> str:
    """Give the sign that parts the most lines into the same number of cells; a comma where none does."""
    best, most = ",", (0, 0)
    for sign in DELIMITERS:
        widths = Counter(
            len(row) for row, _ in zip(_rows(text, sign), range(COUNTED_LINES), strict=False) if row
        )
        widths.pop(1, None)
        if widths:
            (width, lines), = widths.most_common(1)  # fmt: skip
            if (lines, width) > most:
                best, most = sign, (lines, width)
    return best


def _rows(text: str, delimiter: str) -> list[list[str]]:
    """Part a text into rows; a quotation mark within a cell parts nothing."""
    csv.field_size_limit(_LONGEST_FIELD)
    return list(csv.reader(StringIO(text, newline=""), delimiter=delimiter))


def _check_quotes(text: str, delimiter: str, rows: list[list[str]]) -> None:
    """Refuse a text in which a quotation mark has swallowed the rows after it."""
    width = max((len(one) for one in rows), default=0)
    for number, row in enumerate(rows, start=1):
        for cell in row:
            lines = cell.splitlines()
            swallowed = width > 1 and any(one.count(delimiter) >= width - 1 for one in lines)
            if (len(lines) > 1 and swallowed) or len(lines) > LINES_IN_A_CELL:
                raise UnreadableFileError(
                    f"A quotation mark in row {number} is never closed, or closed rows later. Put it right and hand the file in again."
                )
    try:
        for _row in csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True):
            pass
    except csv.Error as error:
        if "end of data" in str(error):
            raise UnreadableFileError(
                "A quotation mark in this file is never closed. Put it right and hand it in again."
            ) from error
