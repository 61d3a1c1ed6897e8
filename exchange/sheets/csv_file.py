"""A list as CSV, in which no text is taken for a formula, and back."""

import csv
import re
from collections.abc import Sequence
from io import StringIO

Cell = str | int
"""A text, or a whole number."""

# A spreadsheet works out what begins so, in full-width letters too. An apostrophe before it, which
# is not shown, keeps it a text; one that was there already gets another, so that reading is exact.
_FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")


def csv_bytes(heads: Sequence[str], rows: Sequence[Sequence[Cell]]) -> bytes:
    """Give a list as CSV with commas, in UTF-8 with the mark by which spreadsheets know it."""
    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([_safe(head) for head in heads])
    writer.writerows([[_safe(cell) for cell in row] for row in rows])
    return text.getvalue().encode("utf-8-sig")


def csv_rows(content: bytes) -> list[list[str]]:
    """Give the cells of such a file as the texts they were written from, the heads first."""
    text = StringIO(content.decode("utf-8-sig"), newline="")
    return [[plain(cell) for cell in row] for row in csv.reader(text)]


def _safe(cell: Cell) -> str:
    text = str(cell)
    return f"'{text}" if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text


def plain(cell: str) -> str:
    """Give the text of a cell without the apostrophe that keeps it a text."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell
