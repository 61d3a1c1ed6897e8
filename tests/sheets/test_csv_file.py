"""Lists as CSV: read back equal, and nothing in them is worked out by a spreadsheet."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.sheets.csv_file import csv_bytes, csv_rows

TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0")) | st.from_regex(
    r"'{0,3}[=+\-@\t\r\n＝＋－＠']\d{0,2}\w?", fullmatch=True
)
STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def cells(content):
    return list(csv.reader(StringIO(content.decode("utf-8-sig"), newline="")))


@given(st.lists(st.lists(TEXTS | st.integers(), min_size=2, max_size=2)))
def test_every_list_is_read_back_equal(rows):
    read = csv_rows(csv_bytes(("Name", "Note"), rows))

    assert read == [["Name", "Note"], *([str(cell) for cell in row] for row in rows)]


@given(TEXTS)
def test_nothing_but_a_number_begins_as_a_formula_does(text):
    ((written, _),) = cells(csv_bytes((text, "x"), ()))

    assert (
        not written.startswith(STARTS)
        or written.lstrip("+-").replace(",", ".", 1).replace(".", "", 1).isdigit()
    )


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ('=HYPERLINK("http://x")', '\'=HYPERLINK("http://x")'),
        ("@home", "'@home"),
        ("-3", "-3"),
        ("+1,5", "+1,5"),
        ("-3 of them", "'-3 of them"),
        ("'Lowmoor Ember'", "'Lowmoor Ember'"),
        ("'=1", "''=1"),
        ("a=b", "a=b"),
    ],
)
def test_only_what_needs_one_has_an_apostrophe(text, written):
    assert cells(csv_bytes((text, "x"), ())) == [[written, "x"]]


def test_spreadsheets_are_told_that_it_is_utf_8():
    assert csv_bytes(("Göppingen",), ()).startswith(b"\xef\xbb\xbfG\xc3\xb6")
