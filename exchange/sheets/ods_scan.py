"""A look at the sheets of an .ods workbook before it is opened."""

from dataclasses import dataclass, field

from exchange.domain.spreadsheet.sheet import MOST_COLUMNS, CellFlag
from exchange.sheets.workbook_scan import FARTHEST_ROW, Attributes, SheetScan, parse

_MANY = 10_000_000


def scan_ods(parts: dict[str, bytes]) -> dict[str, SheetScan]:
    """Look at every sheet [name -> what was seen].

    Raises
    ------
    UnreadableFileError
        When one reaches too far, or is damaged.
    """
    look = _OdsLook()
    parse(parts.get("content.xml", b""), look.start, look.end)
    return look.found


def _times(said: Attributes, name: str) -> int:
    number = said.get(name, "1")
    return min(int(number), _MANY) if number.isdecimal() else 1


@dataclass(slots=True)
class _OdsLook:
    """Goes through all sheets; what is empty may be repeated as far as it likes."""

    found: dict[str, SheetScan] = field(default_factory=dict)
    scan: SheetScan = field(default_factory=SheetScan)
    row: int = 0
    column: int = 0
    rows: int = 1
    filled: bool = False
    cell: int = 0
    depth: int = 0

    def start(self, tag: str, said: Attributes) -> None:
        if tag == "table:table":
            self.scan = SheetScan(said.get("table:name", ""))
            self.found[self.scan.name] = self.scan
            self.row = 0
        elif tag == "table:table-row":
            self.rows = _times(said, "table:number-rows-repeated")
            self.column, self.filled = 0, False
        elif tag in {"table:table-cell", "table:covered-table-cell"}:
            self._cell(tag, said)
        elif tag == "text:p":
            self._fill(self.column - self.cell, self.cell)

    def _cell(self, tag: str, said: Attributes) -> None:
        at, self.cell = self.column, _times(said, "table:number-columns-repeated")
        self.column += self.cell
        if said.get("office:value-type"):
            self._fill(at, self.cell)
        if tag == "table:covered-table-cell" and at < MOST_COLUMNS:
            self.scan.flags.setdefault((self.row, at), CellFlag.MERGED)
        if said.get("calcext:value-type") == "error":
            self.scan.flags[self.row, at] = CellFlag.ERROR
        elif said.get("table:formula"):
            value = said.get("office:value", said.get("office:string-value", "text"))
            if value in {"", "0"}:
                self.scan.flags[self.row, at] = CellFlag.UNFINISHED
        down = _times(said, "table:number-rows-spanned")
        if down > 1:
            across = _times(said, "table:number-columns-spanned")
            self.scan.join(self.row, at, self.row + down - 1, at + across - 1)

    def _fill(self, at: int, times: int) -> None:
        self.filled = True
        self.scan.reach(self.row, at + times - 1)

    def end(self, tag: str) -> None:
        if tag == "table:table-row":
            if self.filled:
                self.scan.reach(self.row + self.rows - 1, 0)
            self.row = min(self.row + self.rows, FARTHEST_ROW * 100)
