"""Spreadsheets made for tests: lists of cells as CSV, .xlsx or .ods, tidy or not."""

import hashlib
import io
import zipfile
from xml.sax.saxutils import escape

import xlsxwriter

ODS = "application/vnd.oasis.opendocument.spreadsheet"


def a_name(at):
    """Give a name of a variety that is like no other: the same for the same number."""
    signs = hashlib.sha256(str(at).encode()).digest()[:14]
    letters = "".join(chr(ord("a") + one % 26) for one in signs)
    return f"{letters[:6]} {letters[6:]}".title()


def csv(*rows, delimiter=",", encoding="utf-8"):
    """Give rows of texts as they stand, with nothing quoted."""
    return "".join(f"{delimiter.join(row)}\n" for row in rows).encode(encoding)


def xlsx(**sheets):
    """Give a workbook; a sheet is a list of rows, or a function that fills one."""
    file = io.BytesIO()
    book = xlsxwriter.Workbook(file, {"in_memory": True})
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        if callable(rows):
            rows(book, sheet)
            continue
        for at, row in enumerate(rows):
            sheet.write_row(at, 0, row)
    book.close()
    return file.getvalue()


def ods(**sheets):
    """Give a workbook; a sheet is a list of rows of texts and numbers, or the XML of its rows."""
    tables = "".join(
        f'<table:table table:name="{escape(name)}">{rows if isinstance(rows, str) else _ods_rows(rows)}</table:table>'
        for name, rows in sheets.items()
    )
    content = (
        '<?xml version="1.0" encoding="UTF-8"?><office:document-content '
        'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
        'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0" '
        'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">'
        f"<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"
    )
    manifest = (
        '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{ODS}"/></manifest:manifest>'
    )
    return packed({"mimetype": ODS, "content.xml": content, "META-INF/manifest.xml": manifest})


def _ods_rows(rows):
    return "".join(
        f"<table:table-row>{''.join(_ods_cell(one) for one in row)}</table:table-row>"
        for row in rows
    )


def _ods_cell(value):
    if isinstance(value, int | float):
        return f'<table:table-cell office:value-type="float" office:value="{value}"><text:p>{value}</text:p></table:table-cell>'
    text = escape(str(value))
    return f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>' if text else "<table:table-cell/>"  # fmt: skip


def packed(parts, compression=zipfile.ZIP_DEFLATED):
    """Give a packed file of these parts."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", compression) as made:
        for name, content in parts.items():
            made.writestr(name, content)
    return file.getvalue()
