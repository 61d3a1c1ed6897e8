"""A look at the sheets of an .xlsx workbook before it is opened."""

from dataclasses import dataclass, field
from posixpath import normpath

from exchange.domain.spreadsheet.sheet import CellFlag
from exchange.sheets.workbook_scan import Attributes, SheetScan, parse, place

_BOOK = "xl/workbook.xml"
_LINKS = "xl/_rels/workbook.xml.rels"


def scan_xlsx(parts: dict[str, bytes]) -> dict[str, SheetScan]:
    """Look at every sheet [name -> what was seen].

    Raises
    ------
    UnreadableFileError
        When one reaches too far, or is damaged.
    """
    named: dict[str, str] = {}
    targets: dict[str, str] = {}

    def sheet(tag: str, said: Attributes) -> None:
        if tag.rpartition(":")[2] == "sheet":
            link = next((value for key, value in said.items() if key.endswith(":id")), "")
            named[said.get("name", "")] = link

    def link(tag: str, said: Attributes) -> None:
        if tag.rpartition(":")[2] == "Relationship":
            target = said.get("Target", "")
            inside = target.lstrip("/") if target.startswith("/") else normpath(f"xl/{target}")
            targets[said.get("Id", "")] = inside

    parse(parts.get(_BOOK, b""), sheet)
    parse(parts.get(_LINKS, b""), link)
    found = {}
    for name, key in named.items():
        content = parts.get(targets.get(key, ""))
        if content is not None:
            found[name] = _XlsxLook(SheetScan(name)).through(content)
    return found


@dataclass(slots=True)
class _XlsxLook:
    """Goes through one sheet; a cell without a reference stands beside the one before."""

    scan: SheetScan
    row: int = -1
    column: int = -1
    formula: bool = False
    valued: bool = False
    texts: list[str] = field(default_factory=list)

    def through(self, content: bytes) -> SheetScan:
        parse(content, self.start, self.end, self.texts.append)
        return self.scan

    def start(self, tag: str, said: Attributes) -> None:
        name = tag.rpartition(":")[2]
        self.texts.clear()
        if name == "row":
            at = said.get("r", "")
            self.row, self.column = (int(at) - 1 if at.isdecimal() else self.row + 1), -1
            self.scan.reach(self.row, 0)
        elif name == "c":
            reference = said.get("r", "")
            beside = (max(self.row, 0), self.column + 1)
            self.row, self.column = place(reference) if reference else beside
            self.scan.reach(self.row, self.column)
            self.formula = self.valued = False
            if said.get("t") == "e":
                self.scan.flags[self.row, self.column] = CellFlag.ERROR
        elif name == "f":
            self.formula = True
        elif name == "mergeCell":
            first, _colon, last = said.get("ref", "").partition(":")
            self.scan.join(*place(first), *place(last or first))

    def end(self, tag: str) -> None:
        name = tag.rpartition(":")[2]
        if name == "v":
            self.valued = "".join(self.texts).strip() not in {"", "0"}
        elif name == "c" and self.formula and not self.valued:
            self.scan.flags.setdefault((self.row, self.column), CellFlag.UNFINISHED)
