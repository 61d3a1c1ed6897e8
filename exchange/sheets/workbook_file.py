"""A workbook, .xlsx or .ods: unpacked within limits, looked through, then read."""

from datetime import date, datetime, time, timedelta
from io import BytesIO
from typing import Any

from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from exchange.domain.growing.names import one_line
from exchange.domain.spreadsheet.sheet import MOST_COLUMNS, CellFlag, Sheet
from exchange.sheets.csv_file import plain
from exchange.sheets.ods_scan import scan_ods
from exchange.sheets.packed_file import packed_anew, unpacked
from exchange.sheets.refused_file import UnreadableFileError
from exchange.sheets.workbook_scan import SheetScan
from exchange.sheets.xlsx_scan import scan_xlsx

_ODS = "application/vnd.oasis.opendocument.spreadsheet"
_UNKNOWN = "This is no spreadsheet that is known here. Save it as .xlsx, .ods or .csv."


def read_workbook(content: bytes) -> tuple[Sheet, ...]:
    """Read the sheets of a workbook.

    Raises
    ------
    UnreadableFileError
        With a sentence for who handed it in.
    """
    parts = unpacked(content)
    if parts.get("mimetype", b"").decode("ascii", "replace").strip() == _ODS:
        scans = scan_ods(parts)
    elif "xl/workbook.xml" in parts:
        scans = scan_xlsx(parts)
    else:
        raise UnreadableFileError(_UNKNOWN)
    try:
        book = CalamineWorkbook.from_filelike(BytesIO(packed_anew(parts)))
        return tuple(
            _sheet(book, one.name, one.visible, scans.get(one.name, SheetScan(one.name)))
            for one in book.sheets_metadata
            if one.typ == SheetTypeEnum.WorkSheet
        )
    except (CalamineError, ValueError, OSError) as error:
        raise UnreadableFileError(
            "This spreadsheet is damaged. Save it anew, or as .csv."
        ) from error


def _sheet(book: CalamineWorkbook, name: str, visible: SheetVisibleEnum, scan: SheetScan) -> Sheet:
    rows = [
        tuple(_text(cell) for cell in row[: MOST_COLUMNS + 1])
        for row in book.get_sheet_by_name(name).to_python(skip_empty_area=False)
    ]
    for (row, column), flag in scan.flags.items():
        # The reader gives nothing for these; what is written there would be worked out by itself.
        if flag is CellFlag.UNFINISHED and row < len(rows) and column < len(rows[row]):
            cells = list(rows[row])
            cells[column] = ""
            rows[row] = tuple(cells)
    while rows and not any(rows[-1]):
        rows.pop()
    shown = one_line(name.replace("!", " "))[:60]
    return Sheet(shown, tuple(rows), scan.flags, visible != SheetVisibleEnum.Visible)


def _text(cell: Any) -> str:
    """Give a cell as text: whole numbers without decimals, days as ISO 8601 writes them."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, datetime):
        whole = cell.time() == time(0)
        return cell.date().isoformat() if whole else cell.isoformat(" ", "minutes")
    if isinstance(cell, date | time | timedelta):
        return cell.isoformat() if isinstance(cell, date) else str(cell)
    return plain(str(cell).strip())
