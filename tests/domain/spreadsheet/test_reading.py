"""What was said of a file settles what it was said of, and nothing else."""

import pytest

from exchange.domain.spreadsheet.choices import FileChoices, RowKind, SheetChoices
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.reading import read_file
from exchange.domain.spreadsheet.row import RowDoubt, RowState, RowWhy
from exchange.sheets.any_file import read_sheets
from tests.builders.workbooks import csv, xlsx
from tests.domain.spreadsheet.scoring import CIRCLE, NAMES, SAID, choices_for, told
from tests.domain.spreadsheet.text_files import DAYS, NEAR_NAMES, PEOPLE
from tests.domain.spreadsheet.workbook_files import ACROSS, JOINED, UNKNOWN, WHOLE


def rows_of(file, said=None, **choices):
    """Give the rows of a file by number, with more said of its first sheet."""
    sheets = read_sheets(file.name, file.content).sheets
    usual = choices_for(sheets, file.kinds)
    usual.sheets[sheets[0].name] = said or usual.sheets[sheets[0].name]
    made = FileChoices(sheets=usual.sheets, **choices)
    return {one.key.split("!")[1]: one for one in read_file(sheets, made, CIRCLE).rows}


def also(**more):
    usual = {"raised": SAID.raised, "ready_from": SAID.ready_from, "send_by": SAID.send_by}
    return SheetChoices(**{**usual, **more})


def test_a_name_that_was_answered_for_once_holds_for_its_rows_only():
    rows = rows_of(NEAR_NAMES, names={"tin kettel": "1", "orchard bells": "as:orchard bell", "harl": "out"})  # fmt: skip

    assert told(rows["2"], NAMES) == "Odo Birch: gives 2 rooted dahlia Tin Kettle"
    assert told(rows["8"], NAMES) == "Odo Birch: gives 2 rooted dahlia Orchard Bell (new)"
    assert (rows["9"].state, rows["9"].why) == (RowState.OUT, RowWhy.CHOSEN)
    assert rows["3"].doubts == {RowDoubt.NAME}


def test_a_member_that_was_answered_for_holds_for_that_name_only():
    rows = rows_of(PEOPLE, people={"maud": "5", "bert": "out"})

    assert told(rows["2"], NAMES) == "Maud Finch: gives 2 rooted dahlia Tin Kettle"
    assert rows["6"].state is RowState.OUT
    assert rows["4"].doubts == {RowDoubt.WHOSE}


@pytest.mark.parametrize(("first", "day"), [(True, "2027-05-04"), (False, "2027-04-05")])
def test_which_of_two_days_is_meant_is_said_once(first, day):
    assert rows_of(DAYS, also(day_first=first))["2"].said["ready_from"] == day


def test_a_column_whose_days_settle_it_is_not_overruled():
    assert rows_of(DAYS, also(day_first=False))["3"].said["send_by"] == "2027-06-03"


def test_empty_cells_mean_the_one_above_only_where_that_was_said():
    assert rows_of(JOINED)["3"].why is RowWhy.MERGED

    row = rows_of(JOINED, also(fill_down=True))["3"]

    assert told(row, NAMES) == "Effie Marsh: gives 3 rooted salvia Rust"


def test_a_mark_is_as_many_plants_as_was_said():
    assert rows_of(ACROSS)["3:3"].doubts == {RowDoubt.COUNT}

    assert rows_of(ACROSS, also(mark_means=2))["3:3"].said["count"] == "2"


def test_what_rows_are_is_asked_and_said():
    assert rows_of(UNKNOWN) == {}

    rows = rows_of(UNKNOWN, also(kind=RowKind.CLAIMS))

    assert told(rows["2"], NAMES) == "Effie Marsh: wish 2 dahlia Tin Kettle"


def test_a_column_can_be_taken_for_something_else():
    file = read_sheets("spares.csv", csv(("A", "B", "C", "D"), ("Rust", "Odo", "3", "rooted")))
    heads = {"0": ColumnHead.NAME, "1": ColumnHead.WHOSE, "2": ColumnHead.COUNT, "3": ColumnHead.MATERIAL}  # fmt: skip
    said = also(kind=RowKind.SPARES, head_row=1, columns=heads)

    (row,) = read_file(file.sheets, FileChoices(sheets={"spares": said}), CIRCLE).rows

    assert told(row, NAMES) == "Odo Birch: gives 3 rooted salvia Rust"


def test_an_answer_to_one_question_settles_no_other():
    content = csv(
        ("Variety", "Whose", "How many", "Sent as"), ("Rust", "Maud", "ca. 3", "cuttings")
    )
    file = read_sheets("spares.csv", content)
    usual = choices_for(file.sheets, {}).sheets
    doubts = {RowDoubt.COUNT, RowDoubt.MATERIAL, RowDoubt.WHOSE}
    answers = {"count": "3", "material": "rooted", "whose": "4"}

    def asked(**said):
        choices = FileChoices(sheets=usual, rows={"spares!2": said})
        (row,) = read_file(file.sheets, choices, CIRCLE).rows
        return row.doubts

    assert asked() == doubts
    assert {one: asked(**{one: said}) for one, said in answers.items()} == {
        one: doubts - {RowDoubt(one)} for one in answers
    }
    assert asked(**answers) == set()


@pytest.mark.parametrize(
    "said",
    [
        {"count": "-3"},
        {"count": "9" * 30},
        {"material": "seed"},
        {"whose": "999"},
        {"count": "lots"},
    ],
)
def test_an_answer_that_is_none_settles_nothing(said):
    content = csv(
        ("Variety", "Whose", "How many", "Sent as"), ("Rust", "Maud", "ca. 3", "cuttings")
    )
    file = read_sheets("spares.csv", content)
    choices = FileChoices(sheets=choices_for(file.sheets, {}).sheets, rows={"spares!2": said})

    (row,) = read_file(file.sheets, choices, CIRCLE).rows

    assert row.doubts == {RowDoubt.COUNT, RowDoubt.MATERIAL, RowDoubt.WHOSE}


def test_a_row_waits_for_the_row_of_its_member():
    sheets = read_sheets(WHOLE.name, WHOLE.content).sheets
    made = FileChoices(sheets=choices_for(sheets, {}).sheets, rows={"Members!2": {"email": "no address"}})  # fmt: skip

    waiting = {one.key: one for one in read_file(sheets, made, CIRCLE).rows}

    assert waiting["Members!2"].doubts == {RowDoubt.EMAIL}
    assert (waiting["Spares!2"].state, waiting["Spares!2"].why) == (RowState.ASKED, RowWhy.MEMBER_FIRST)  # fmt: skip


def test_a_hidden_sheet_is_read_only_where_that_was_said():
    def hidden(_book, sheet):
        sheet.write_row(0, 0, ["Variety", "Whose", "How many", "Sent as"])
        sheet.write_row(1, 0, ["Rust", "Odo Birch", 3, "rooted"])
        sheet.hide()

    file = read_sheets("a.xlsx", xlsx(New=[["a"]], Spares=hidden))

    assert read_file(file.sheets, choices_for(file.sheets, {}), CIRCLE).rows == ()
    said = choices_for(file.sheets, {"Spares": RowKind.SPARES})
    (row,) = read_file(file.sheets, said, CIRCLE).rows
    assert told(row, NAMES) == "Odo Birch: gives 3 rooted salvia Rust"
