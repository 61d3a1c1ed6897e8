from exchange.words.kernel.phrase import NBSP
from exchange.words.kernel.terminal import INDENT, WIDEST_CELL, WIDEST_NOTE, table


def test_a_column_is_as_wide_as_its_widest_cell_or_its_head():
    assert table(("Way", "Days"), [("First class", "1"), ("By hand", "0")]) == (
        "Way          Days\n-----------  ----\nFirst class  1\nBy hand      0"
    )


def test_a_long_cell_goes_on_below_itself():
    long = "leaf " * 20
    lines = table(("Note", "Plants"), [(long, "3")]).splitlines()[2:]

    assert [line.split("  ")[-1] == "3" for line in lines] == [True, False]
    assert " ".join(line.removesuffix("3").strip() for line in lines) == long.strip()
    assert max(len(line.removesuffix("3").rstrip()) for line in lines) <= WIDEST_CELL


def test_an_empty_cell_keeps_its_row():
    assert table(("A", "B"), [("", "1")]).splitlines()[-1] == "   1"


def test_a_note_stands_indented_below_its_own_row():
    lines = table(("A",), [("one",), ("two",)], ["of one", "leaf " * 30]).splitlines()[2:]

    assert lines[:3] == ["one", f"{INDENT}of one", "two"]
    assert all(line.startswith(f"{INDENT}leaf") for line in lines[3:])
    assert max(map(len, lines)) <= WIDEST_NOTE


def test_what_is_tied_on_a_page_is_set_with_plain_blanks():
    assert NBSP not in table(("A",), [(f"3{NBSP}plants",)], [f"2{NBSP}pots"])
