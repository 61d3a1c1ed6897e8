"""A look at a workbook before it is opened: how far it reaches, and what the reader would not tell.

The reader gives a failed formula as an empty cell, one that was never worked out as 0, and fills every cell
up to the last one a sheet names, however far away that is.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

from exchange.domain.spreadsheet.sheet import MOST_COLUMNS, CellFlag
from exchange.sheets.refused_file import UnreadableFileError

FARTHEST_ROW = 20_000
"""The last row that may be used, empty ones above it counted (judgement) [rows]."""

_UNSURE = "This spreadsheet is damaged or made to do harm. Save it anew, or as .csv."
_TOO_FAR = f"Something stands far outside the list: below row {FARTHEST_ROW:,} or right of column {MOST_COLUMNS}. Delete it, or save the rows as .csv."
_REFERENCE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
Flags = dict[tuple[int, int], CellFlag]
Attributes = Mapping[str, str]


@dataclass(slots=True)
class SheetScan:
    """What was seen of one sheet.

    Attributes
    ----------
    flags : cells of which more has to be known [(row, column), both from 0]
    """

    name: str = ""
    flags: Flags = field(default_factory=dict)

    def reach(self, row: int, column: int) -> None:
        """Refuse a cell that stands too far away."""
        if row >= FARTHEST_ROW or column >= MOST_COLUMNS:
            raise UnreadableFileError(_TOO_FAR)

    def join(self, top: int, left: int, bottom: int, right: int) -> None:
        """Mark the cells under the first of a merged area."""
        self.reach(top, left)
        bottom, right = min(bottom, FARTHEST_ROW), min(right, MOST_COLUMNS)
        for row in range(top, bottom + 1):
            for column in range(left, right + 1):
                if (row, column) != (top, left):
                    self.flags[row, column] = CellFlag.MERGED


def parse(
    content: bytes,
    start: Callable[[str, Attributes], None],
    end: Callable[[str], None] = lambda _name: None,
    text: Callable[[str], None] | None = None,
) -> None:
    """Go through a part of a workbook.

    Raises
    ------
    UnreadableFileError
        When it is no such part, or declares a document type.
    """
    parser = expat.ParserCreate()

    def refuse(*_declared: object) -> None:
        raise UnreadableFileError(_UNSURE)

    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text
    parser.buffer_text = True
    try:
        parser.Parse(content, True)
    except expat.ExpatError as error:
        raise UnreadableFileError(_UNSURE) from error


def place(reference: str) -> tuple[int, int]:
    """Give row and column of "C12", both from 0."""
    found = _REFERENCE.fullmatch(reference.replace("$", ""))
    if not found:
        raise UnreadableFileError(_UNSURE)
    column = 0
    for letter in found.group(1):
        column = column * 26 + ord(letter) - 64
    return int(found.group(2)) - 1, column - 1
