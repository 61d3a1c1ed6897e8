"""Lists as words: days that spreadsheets know, and lines for a mail."""

from datetime import date

from exchange.words.circle import lists


def test_a_row_is_a_line_that_leaves_out_what_is_empty():
    text = lists.as_text(
        ("Variety", "Kind", "Plants", "Note"),
        [("Chapel Lantern", "Dahlia", 3, ""), ("Ferry Light", "", 0, "Tall.")],
    )

    assert text == "Chapel Lantern. Kind: Dahlia. Plants: 3.\nFerry Light. Plants: 0. Note: Tall."


def test_an_empty_list_is_an_empty_text():
    assert lists.as_text(("Variety",), []) == ""


def test_days_and_marks():
    assert (lists.day(date(2027, 4, 5)), lists.day(None)) == ("2027-04-05", "")
    assert (lists.yes(holds=True), lists.yes(holds=False)) == ("yes", "")
    assert lists.plain("3\N{NO-BREAK SPACE}clumps") == "3 clumps"
