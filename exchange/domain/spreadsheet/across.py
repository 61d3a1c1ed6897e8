"""A cross-table: varieties down, members across, a number or a mark where they meet."""

import re
from dataclasses import replace

from exchange.domain.spreadsheet.choices import RowKind
from exchange.domain.spreadsheet.entry import SheetLine, begun
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.plant_fields import ReadBeside
from exchange.domain.spreadsheet.plants import plant_row
from exchange.domain.spreadsheet.row import RowRead, RowState, RowWhy

_NONE = re.compile(r"[-–—.]|0|none|no|nil", re.IGNORECASE)
_TOTAL = re.compile(r"(?:sub|grand)?[\s-]?(?:totals?|sum|altogether)", re.IGNORECASE)


def cell_row(line: SheetLine, kind: RowKind, around: ReadBeside) -> RowRead:
    """Read one filled cell of a cross-table as an entry of its own."""
    column = line.column or 0
    name = line.of(ColumnHead.NAME) or (
        around.above.get(ColumnHead.NAME, "") if line.choices.fill_down else ""
    )
    cell = line.sheet.cell(line.at, column)
    whose = line.layout.columns[column].word
    row = replace(begun(line, kind), key=key_of(line), text=f"{name or '?'} | {whose}: {cell}")
    if row.state is not RowState.READY:
        return row
    if _TOTAL.fullmatch(name.strip(" :")):
        return replace(row, state=RowState.OUT, why=RowWhy.TOTAL)
    if _NONE.fullmatch(cell.strip()):
        return replace(row, state=RowState.OUT, why=RowWhy.NONE_LEFT)
    return plant_row(row, line, around, (name, cell, whose))


def key_of(line: SheetLine) -> str:
    """Give what tells a row, or a cell of a cross-table, from all others of the file."""
    beside = "" if line.column is None else f":{line.column + 1}"
    return f"{line.sheet.name}!{line.at + 1}{beside}"
