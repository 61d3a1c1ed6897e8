"""A file that was handed in, of whatever format: its sheets, or a sentence why it is not read."""

from dataclasses import dataclass
from pathlib import PurePath

from exchange.domain.spreadsheet.sheet import MOST_COLUMNS, MOST_ROWS, MOST_SHEETS, Sheet
from exchange.sheets.refused_file import UnreadableFileError
from exchange.sheets.text_file import read_text
from exchange.sheets.workbook_file import read_workbook

MOST_BYTES = 1024 * 1024
"""Largest file that is read (judgement) [bytes]."""

_PACKED = b"PK\x03\x04"
_OLD = {
    b"\xd0\xcf\x11\xe0": "This is an old or locked spreadsheet. Save it as .xlsx, .ods or .csv, without a password.",
    b"%PDF": "This is a PDF, from which no rows can be read. Save the spreadsheet itself.",
    b"{\\rt": "This is a letter, not a spreadsheet. Paste its lines into the box.",
}


@dataclass(frozen=True, slots=True)
class FileSheets:
    """What is in a file.

    Attributes
    ----------
    encoding, delimiter : of a text file, as they were taken; empty for a workbook
    sure : whether the encoding is sure
    """

    sheets: tuple[Sheet, ...]
    encoding: str = ""
    delimiter: str = ""
    sure: bool = True


def read_sheets(name: str, content: bytes, encoding: str = "", delimiter: str = "") -> FileSheets:
    """Read the sheets of a file.

    Parameters
    ----------
    name : of the file, after which the one sheet of a text file is called
    encoding, delimiter : of a text file, where somebody has said so

    Raises
    ------
    UnreadableFileError
        With a sentence for who handed it in.
    """
    if not content:
        raise UnreadableFileError("The file is empty.")
    if len(content) > MOST_BYTES:
        raise UnreadableFileError(
            "The file is larger than 1 MB. Save only the rows that are wanted."
        )
    for begins, sentence in _OLD.items():
        if content.startswith(begins):
            raise UnreadableFileError(sentence)
    if content.startswith(_PACKED):
        found = FileSheets(read_workbook(content))
    else:
        text = read_text(content, encoding, delimiter)
        sheet = Sheet(_plain_name(name), text.rows)
        found = FileSheets((sheet,), text.encoding, text.delimiter, text.sure)
    return _bounded(found)


def _plain_name(name: str) -> str:
    """Give the name of a text file's only sheet, without the folder and the ending."""
    stem = PurePath(name.replace("\\", "/")).stem.replace("!", " ").replace("_", " ")
    return " ".join("".join(one for one in stem if one.isprintable()).split())[:60] or "File"


def _bounded(found: FileSheets) -> FileSheets:
    if len(found.sheets) > MOST_SHEETS:
        raise UnreadableFileError(f"The file has more than {MOST_SHEETS} sheets.")
    # One row of a sheet may hold the headings.
    if sum(max(0, one.filled() - 1) for one in found.sheets) > MOST_ROWS:
        raise UnreadableFileError(
            f"The file has more than {MOST_ROWS:,} rows. Read it in in parts."
        )
    if any(one.width > MOST_COLUMNS for one in found.sheets):
        raise UnreadableFileError(f"A sheet has more than {MOST_COLUMNS} columns.")
    if not any(one.filled() for one in found.sheets):
        raise UnreadableFileError("There is nothing in this file.")
    return found
