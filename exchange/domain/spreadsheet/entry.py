"""A row made of cells: what every kind of row shares before its own fields are read."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace

from exchange.domain.growing.names import fold
from exchange.domain.spreadsheet.choices import LEFT_OUT, RowKind, SheetChoices
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.layout import SheetLayout
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy
from exchange.domain.spreadsheet.sheet import LONGEST_CELL, CellFlag, Sheet


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One row of a sheet with all that is needed to read it.

    Attributes
    ----------
    at : of the row, from 0
    answers : what was said of this row by itself
    column : of a cross-table, the column that is read
    """

    sheet: Sheet
    layout: SheetLayout
    choices: SheetChoices
    at: int
    answers: Mapping[str, str]
    column: int | None = None

    def of(self, head: ColumnHead) -> str:
        """Give what the columns of that kind hold, joined where there are several."""
        cells = (
            self.sheet.cell(self.at, column)
            for column, one in enumerate(self.layout.columns)
            if one.head is head
        )
        return " ".join(cell for cell in cells if cell)

    def has(self, head: ColumnHead) -> bool:
        """Say whether the sheet has such a column."""
        return any(one.head is head for one in self.layout.columns)

    def columns_of(self, head: ColumnHead) -> tuple[int, ...]:
        """Give the columns of that kind."""
        return tuple(at for at, one in enumerate(self.layout.columns) if one.head is head)

    @property
    def is_across(self) -> bool:
        """Say whether the sheet has members over its columns."""
        return bool(self.layout.kind and self.layout.kind.is_across)

    @property
    def unread(self) -> tuple[tuple[str, str], ...]:
        """Give the cells of columns of which nobody knows what they hold, with their headings."""
        return tuple(
            (one.word, cell)
            for column, one in enumerate(self.layout.columns)
            if one.head is ColumnHead.OTHER and (cell := self.sheet.cell(self.at, column))
        )

    @property
    def text(self) -> str:
        """Give the row as it is written."""
        return " | ".join(cell for cell in self.sheet.rows[self.at] if cell)

    def flag(self) -> CellFlag | None:
        """Give the gravest flag of a cell that is read."""
        read = {
            at
            for at, one in enumerate(self.layout.columns)
            if one.head is not ColumnHead.NOT_READ
            and (one.head is not ColumnHead.MEMBER or at == self.column)
        }
        found = {
            flag for (row, column), flag in self.sheet.flags.items()
            if row == self.at and column in read
        } if self.sheet.flags else set()  # fmt: skip
        grave = (CellFlag.ERROR, CellFlag.UNFINISHED, CellFlag.MERGED)
        return next((one for one in grave if one in found), None)


_WHY_OF_FLAG = {
    CellFlag.ERROR: RowWhy.ERROR,
    CellFlag.UNFINISHED: RowWhy.UNFINISHED,
}


def begun(line: SheetLine, kind: RowKind) -> RowRead:
    """Begin a row: its place, its text, and what is the matter with its cells as such."""
    number = line.at + 1
    row = RowRead(f"{line.sheet.name}!{number}", line.sheet.name, number, kind, line.text)
    if line.answers.get("what") == LEFT_OUT:
        return replace(row, state=RowState.OUT, why=RowWhy.CHOSEN)
    cells = line.sheet.rows[line.at]
    if any(len(cell) > LONGEST_CELL for cell in cells):
        return replace(row, state=RowState.REFUSED, why=RowWhy.TOO_LONG)
    heads = line.layout.columns
    nameless = (at for at, one in enumerate(heads) if not one.word and one.head is ColumnHead.OTHER)
    if line.layout.head_row and any(line.sheet.cell(line.at, at) for at in nameless):
        return questioned(row, line, RowWhy.TOO_WIDE)
    flag = line.flag()
    if flag is CellFlag.MERGED:
        return (
            row
            if line.choices.fill_down
            else replace(row, state=RowState.REFUSED, why=RowWhy.MERGED)
        )
    return questioned(row, line, _WHY_OF_FLAG[flag]) if flag else row


def questioned(row: RowRead, line: SheetLine, why: RowWhy) -> RowRead:
    """Ask whether a row is to go in, unless that was said."""
    if line.answers.get("what") == "take":
        return row
    return replace(row, doubts=row.doubts | {RowDoubt.WHAT}, why=why)


def repeats_heads(line: SheetLine) -> bool:
    """Say whether a row is the headings once more, as on a second printed page."""
    words = [fold(one.word) for one in line.layout.columns]
    cells = [fold(line.sheet.cell(line.at, at)) for at in range(len(words))]
    return any(words) and words == cells


def closed(row: RowRead, order: int = 0) -> RowRead:
    """Give a row its state and the hash by which it is known again.

    Parameters
    ----------
    order : how many rows before it say the same
    """
    state = row.state
    if state is RowState.READY and row.doubts:
        state = RowState.ASKED
    return replace(row, state=state, sha=hash_of(row, order))


def hash_of(row: RowRead, order: int) -> str:
    """Give the hash of what a row is and holds, wherever in the file it stands."""
    whole = "\x1f".join([row.kind.of_a_row.value, row.text, str(order)])
    return hashlib.sha256(whole.encode("utf-8", "surrogatepass")).hexdigest()
