"""Workbooks: what the reader gives, and what it would not tell by itself."""

from datetime import datetime

import pytest

from exchange.domain.spreadsheet.sheet import CellFlag
from exchange.sheets.refused_file import UnreadableFileError
from exchange.sheets.workbook_file import read_workbook
from tests.builders.workbooks import ods, packed, xlsx


def _odd(book, sheet):
    day = book.add_format({"num_format": "dd/mm/yyyy"})
    sheet.write_row(0, 0, ["Name", "No", "Ready", "Sum"])
    sheet.merge_range(1, 0, 2, 0, "Joined")
    sheet.write_row(1, 1, [3])
    sheet.write_row(2, 1, [2.5])
    sheet.write_datetime(1, 2, datetime(2027, 4, 12), day)
    sheet.write_formula(1, 3, "=1+2", None, 3)
    sheet.write_formula(2, 3, "=1+2")
    sheet.write_formula(3, 3, "=1/0", None, "#DIV/0!")
    sheet.write_string(4, 0, "=Kettle")
    sheet.write_string(4, 1, "007")
    sheet.write_boolean(4, 2, True)


def test_cells_of_a_workbook_come_as_text_and_odd_ones_are_flagged():
    (sheet,) = read_workbook(xlsx(Odd=_odd))

    assert sheet.rows == (
        ("Name", "No", "Ready", "Sum"),
        ("Joined", "3", "2027-04-12", "3"),
        ("", "2.5", "", ""),
        ("", "", "", ""),
        ("=Kettle", "007", "yes", ""),
    )
    assert sheet.flags == {
        (2, 0): CellFlag.MERGED,
        (2, 3): CellFlag.UNFINISHED,
        (3, 3): CellFlag.ERROR,
    }


def test_hidden_sheets_say_so():
    def hidden(_book, sheet):
        sheet.write(0, 0, "old")
        sheet.hide()

    shown, other = read_workbook(xlsx(Shown=[["new"]], Old=hidden))

    assert (shown.hidden, other.hidden) == (False, True)


def test_an_ods_is_read_with_its_joined_and_failed_cells():
    rows = (
        '<table:table-row><table:table-cell office:value-type="string"><text:p>Name</text:p></table:table-cell>'
        '<table:table-cell office:value-type="string"><text:p>No</text:p></table:table-cell></table:table-row>'
        '<table:table-row><table:table-cell table:number-rows-spanned="2" office:value-type="string"><text:p>Rust</text:p></table:table-cell>'
        '<table:table-cell office:value-type="float" office:value="3"><text:p>3</text:p></table:table-cell></table:table-row>'
        '<table:table-row><table:covered-table-cell/><table:table-cell table:formula="of:=1/0" calcext:value-type="error" office:value-type="string">'
        "<text:p>#DIV/0!</text:p></table:table-cell></table:table-row>"
        '<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>'
    )

    (sheet,) = read_workbook(ods(List=rows))

    assert sheet.rows[:2] == (("Name", "No"), ("Rust", "3"))
    assert sheet.flags == {(2, 0): CellFlag.MERGED, (2, 1): CellFlag.ERROR}


@pytest.mark.parametrize(
    "content",
    [
        xlsx(Far=lambda _book, sheet: sheet.write(1_000_000, 2, "far")),
        xlsx(Wide=lambda _book, sheet: sheet.write(0, 16_000, "far")),
        ods(Far='<table:table-row table:number-rows-repeated="1000000"><table:table-cell office:value-type="float" office:value="1"/></table:table-row>'),
        ods(Wide='<table:table-row><table:table-cell table:number-columns-repeated="16000" office:value-type="float" office:value="1"/></table:table-row>'),
    ],
)  # fmt: skip
def test_a_cell_far_away_is_refused(content):
    with pytest.raises(UnreadableFileError, match="far outside the list"):
        read_workbook(content)


DECLARED = '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "cc">]><a>&b;</a>'


@pytest.mark.parametrize(
    "content",
    [
        packed({"xl/workbook.xml": "<a>"}),
        packed({"xl/workbook.xml": DECLARED}),
        packed({"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": DECLARED.encode("utf-16")}),
        packed({"mimetype": "application/vnd.oasis.opendocument.spreadsheet"}),
    ],
)  # fmt: skip
def test_a_damaged_workbook_is_refused(content):
    with pytest.raises(UnreadableFileError, match="damaged"):
        read_workbook(content)
