"""Files of any format: bounded, and refused with a sentence where they are none that is read."""

import pytest

from exchange.domain.spreadsheet.sheet import MOST_COLUMNS, MOST_ROWS
from exchange.sheets.any_file import MOST_BYTES, read_sheets
from exchange.sheets.refused_file import UnreadableFileError
from tests.builders.workbooks import csv, packed, xlsx


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "is empty"),
        (b"\n\n", "nothing in this file"),
        (b"a," * MOST_BYTES, "larger than 1 MB"),
        (b"%PDF-1.7", "a PDF"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old or locked"),
        (b"{\\rtf1", "a letter"),
        (b"x\n" * (MOST_ROWS + 2), "more than 5,000 rows"),
        (csv(("a",) * (MOST_COLUMNS + 1), ("b",) * (MOST_COLUMNS + 1)), "more than 100 columns"),
        (packed({"readme.xml": "<a/>"}), "no spreadsheet that is known"),
        (xlsx(**{f"s{at}": [["a"]] for at in range(21)}), "more than 20 sheets"),
    ],
)
def test_what_is_not_read_is_refused_with_a_sentence(content, sentence):
    with pytest.raises(UnreadableFileError, match=sentence):
        read_sheets("list.csv", content)


@pytest.mark.parametrize(
    ("name", "sheet"),
    [
        ("spares_2027.csv", "spares 2027"),
        ("C:\\lists\\Wishes!.txt", "Wishes"),
        ("../../etc/passwd", "passwd"),
        ("", "File"),
    ],
)
def test_a_text_file_is_one_sheet_of_its_name(name, sheet):
    (one,) = read_sheets(name, b"a\n").sheets

    assert one.name == sheet


def test_a_text_that_was_kept_from_being_a_formula_is_read_as_it_was():
    (one,) = read_sheets("a.csv", b"Name\n'=Sum\n'+3\n").sheets

    assert one.rows[1:] == (("=Sum",), ("+3",)) or one.rows[1:] == (("=Sum",), ("'+3",))
