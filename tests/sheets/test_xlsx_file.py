"""Lists as workbooks: read back equal by another library, and no cell is a formula."""

from io import BytesIO
from zipfile import ZipFile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from exchange.sheets.xlsx_file import LONGEST, xlsx_bytes

# U+FFFE and U+FFFF stand in no XML, and so in no workbook.
PLAIN = st.characters(exclude_categories=["Cs"], exclude_characters="\0\ufffe\uffff")
TEXTS = st.text(PLAIN) | st.from_regex(
    r"'{0,3}[=+\-@\t\r\n＝＋－＠'{]\d{0,2}\w?\}?", fullmatch=True
)
CELLS = TEXTS | st.integers(min_value=-(10**9), max_value=10**9)


def read(content):
    book = CalamineWorkbook.from_filelike(BytesIO(content))
    return book.get_sheet_by_index(0).to_python(skip_empty_area=False)


@settings(deadline=None)
@given(st.lists(st.lists(CELLS, min_size=2, max_size=2)))
def test_every_list_is_read_back_equal(rows):
    found = read(xlsx_bytes("Spares", ("Name", "Note"), rows))

    assert found == [["Name", "Note"], *rows]


@pytest.mark.parametrize("text", ["=1+1", "{=1}", "+1", "-1", "@SUM(A1)", "http://x", "007"])
def test_no_cell_is_a_formula_a_number_or_a_link(text):
    content = xlsx_bytes("Spares", (text,), [(text,)])
    with ZipFile(BytesIO(content)) as packed:
        sheet = packed.read("xl/worksheets/sheet1.xml").decode()

    assert "<f>" not in sheet
    assert "hyperlink" not in sheet
    assert read(content) == [[text], [text]]


def test_a_number_stays_a_number():
    ((_,), (cell,)) = read(xlsx_bytes("Spares", ("Plants",), [(3,)]))

    assert (cell, type(cell)) == (3.0, float)


def test_the_same_list_gives_the_same_bytes():
    of = ("Spares", ("Name",), [("Lowmoor Ember",)])

    assert xlsx_bytes(*of) == xlsx_bytes(*of)


def test_a_text_longer_than_a_cell_is_cut_and_not_dropped():
    ((_,), (cell,)) = read(xlsx_bytes("Spares", ("Note",), [("x" * (LONGEST + 5),)]))

    assert cell == "x" * LONGEST
