"""Text files: signs, what parts cells, quotation marks that swallow rows."""

import pytest

from exchange.sheets.refused_file import UnreadableFileError
from exchange.sheets.text_file import read_text
from tests.builders.workbooks import csv

ROWS = (("Name", "No"), ("Café Noir", "3"), ("Zoë £2", "4"))


@pytest.mark.parametrize(
    ("content", "encoding", "sure"),
    [
        (csv(*ROWS), "utf-8", True),
        ("\ufeffName,No\nCafé Noir,3\nZoë £2,4\n".encode(), "utf-8", True),
        (csv(*ROWS, encoding="utf-16"), "utf-16", True),
        (csv(*ROWS, encoding="cp1252"), "cp1252", False),
    ],
)
def test_signs_are_known_by_their_mark_else_strictly_else_a_guess_is_shown(content, encoding, sure):
    found = read_text(content)

    assert (found.encoding, found.sure) == (encoding, sure)
    assert found.rows == ROWS


def test_the_signs_can_be_said():
    content = csv(*ROWS, encoding="mac_roman")

    assert read_text(content).rows != ROWS
    assert read_text(content, "mac_roman").rows == ROWS


def test_signs_that_cannot_be_are_refused():
    with pytest.raises(UnreadableFileError, match="not written in these signs"):
        read_text(csv(*ROWS, encoding="cp1252"), "utf-8")


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_what_parts_cells_is_counted_over_the_lines(sign):
    rows = (("Name", "No", "Note"), ("Tin Kettle", "3", "a, b; c"), ("Rust", "4", ""))
    quoted = "".join(sign.join(f'"{one}"' for one in row) + "\n" for row in rows)

    found = read_text(quoted.encode())

    assert (found.delimiter, found.rows) == (sign, rows)


def test_one_column_is_a_list():
    assert read_text(b"Variety\nTin Kettle\nRust\n").rows == (
        ("Variety",),
        ("Tin Kettle",),
        ("Rust",),
    )


def test_the_line_that_names_the_sign_is_honoured():
    found = read_text(b"sep=|\nName|No\nA;B;C|3\n")

    assert found.rows == ((), ("Name", "No"), ("A;B;C", "3"))


@pytest.mark.parametrize(
    "text",
    ['Name,No\n"Tin Kettle,2\nRust,3\n', 'Name,No\n"Tin Kettle,2\nRust,3\nLast",4\nOne,5\n'],
)
def test_a_mark_that_swallows_rows_is_refused(text):
    with pytest.raises(UnreadableFileError, match="quotation mark"):
        read_text(text.encode())


def test_a_cell_may_have_lines_and_marks():
    found = read_text(b'Name,Address\n"Tin ""red"" Kettle","1 Lane\nLudlow"\n5" pot,x\n')

    assert found.rows[1:] == (('Tin "red" Kettle', "1 Lane\nLudlow"), ('5" pot', "x"))


@pytest.mark.parametrize("content", [b"a\0b", b"\x1b[31mred", bytes(range(256))])
def test_what_is_no_text_is_refused(content):
    with pytest.raises(UnreadableFileError, match="neither a text nor a spreadsheet"):
        read_text(content)
