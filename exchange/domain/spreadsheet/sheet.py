"""A sheet of a file as cells of text, and what of it a reader has to be told."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

MOST_ROWS = 5000
"""Most rows of one file that are read (judgement) [rows]."""

MOST_COLUMNS = 100
"""Most columns of one sheet that are read (judgement) [columns]."""

MOST_SHEETS = 20
"""Most sheets of one file that are read (judgement) [sheets]."""

LONGEST_CELL = 300
"""Longest cell that is read; a longer one is asked about (judgement) [characters]."""


class CellFlag(StrEnum):
    """What a cell is beside its text.

    An error is a formula that failed; an unfinished one was never worked out. A merged cell is one under
    the first of cells that were joined, and holds nothing of its own.
    """

    ERROR = "error"
    UNFINISHED = "unfinished"
    MERGED = "merged"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet; its rows have the numbers they have in the file, from 1.

    Attributes
    ----------
    rows : cells as text; days as ISO 8601 writes them
    flags : cells of which more has to be known [(row, column), both from 0 -> flag]
    hidden : whether the file hides it
    """

    name: str
    rows: tuple[tuple[str, ...], ...]
    flags: Mapping[tuple[int, int], CellFlag] = field(default_factory=lambda: MappingProxyType({}))
    hidden: bool = False

    @property
    def width(self) -> int:
        """Count the columns of the widest row."""
        return max((len(one) for one in self.rows), default=0)

    def cell(self, row: int, column: int) -> str:
        """Give the text of a cell, empty where the row has none."""
        cells = self.rows[row]
        return cells[column] if column < len(cells) else ""

    def filled(self) -> int:
        """Count the rows that hold anything."""
        return sum(any(one) for one in self.rows)
