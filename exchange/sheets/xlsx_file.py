"""A list as a workbook of one sheet, in which a text stays a text."""

from collections.abc import Sequence
from datetime import datetime
from io import BytesIO

import xlsxwriter

from exchange.sheets.csv_file import Cell

MADE = datetime(2000, 1, 1)  # noqa: DTZ001 - what stands in the file's properties has no zone
"""The day a file says it was made, so that the same list gives the same bytes."""
LONGEST = 32_767
"""Most characters a cell holds; the rest of a longer text is left out."""
WIDEST = 60
"""Widest column [characters]."""


def xlsx_bytes(title: str, heads: Sequence[str], rows: Sequence[Sequence[Cell]]) -> bytes:
    """Give a list as XLSX; no cell holds a formula, whatever it begins with.

    Parameters
    ----------
    title : the sheet's name, at most 31 characters
    """
    content = BytesIO()
    with xlsxwriter.Workbook(content, {"in_memory": True}) as book:
        book.set_properties({"title": title, "created": MADE})
        sheet = book.add_worksheet(title)
        bold = book.add_format({"bold": True})
        # Texts are wrapped and never taken for a number when somebody types over them.
        text = book.add_format({"num_format": "@", "text_wrap": True, "valign": "top"})
        number = book.add_format({"valign": "top"})
        for column, head in enumerate(heads):
            sheet.write_string(0, column, head, bold)
            longest = max((len(str(row[column])) for row in rows), default=0)
            sheet.set_column(column, column, min(WIDEST, max(len(head), longest) + 2))
        for line, row in enumerate(rows, start=1):
            for column, cell in enumerate(row):
                if isinstance(cell, str):
                    sheet.write_string(line, column, cell[:LONGEST], text)
                else:
                    sheet.write_number(line, column, cell, number)
        sheet.freeze_panes(1, 1)
        sheet.autofilter(0, 0, len(rows), max(len(heads) - 1, 0))
        sheet.repeat_rows(0)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
    return content.getvalue()
