from datetime import date

import pytest

from exchange.reference.daily_file import MOST_LINES, DailyFileError, read_content, read_daily


def a_file(tmp_path, text):
    path = tmp_path / "nights.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_minima_and_highs_are_read_and_gaps_left_out(tmp_path):
    reads = read_daily(
        a_file(tmp_path, "date,tmin_c,tmax_c\n2026-01-01,-1.5,4\n2026-01-02,,5\n2026-01-03,0.5,\n")
    )

    assert [(r.day, r.minimum_c, r.maximum_c) for r in reads] == [
        (date(2026, 1, 1), -1.5, 4.0),
        (date(2026, 1, 3), 0.5, None),
    ]


def test_a_file_without_highs_is_enough(tmp_path):
    (read,) = read_daily(a_file(tmp_path, "\ufeffDate,tmin\n2026-01-01,3\n"))

    assert read.maximum_c is None


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "is empty"),
        ("day,rain\n2026-01-01,3\n", "needs the columns"),
        ("date,tmin_c\n2026-01-01,3\nyesterday,4\n", "Line 3"),
        ("date,tmin_c\n2026-01-01,cold\n", "Line 2"),
        ("date,tmin_c\n2026-01-01\n", "Line 2"),
    ],
)
def test_what_is_wrong_in_a_file_is_said(tmp_path, text, sentence):
    with pytest.raises(DailyFileError, match=sentence):
        read_daily(a_file(tmp_path, text))


def test_a_file_that_is_not_there_is_said(tmp_path):
    with pytest.raises(DailyFileError, match="could not be opened"):
        read_daily(tmp_path / "none.csv")


def test_every_line_that_cannot_be_read_is_named_by_its_number():
    read = read_content(
        b"date,tmin_c\n2026-01-01,3\n\nyesterday,4\n2026-01-01,5\n2026-01-02,-99\n", "own.csv"
    )

    assert [day.day for day in read.days] == [date(2026, 1, 1)]
    assert [fault.line for fault in read.faults] == [4, 5, 6]
    assert "like 2027-04-19" in read.faults[0].sentence
    assert "already" in read.faults[1].sentence
    assert "−99" in read.faults[2].sentence or "-99" in read.faults[2].sentence


def test_semicolons_with_decimal_commas_are_read_too():
    read = read_content(b"date;tmin_c;tmax_c\n2026-01-01;-1,5;4,25\n", "own.csv")

    assert [(one.minimum_c, one.maximum_c) for one in read.days] == [(-1.5, 4.25)]


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00", b"date,tmin_c\n2026-01-01,\x00\n", b"", b'"' + b"x" * 200_000]
)
def test_what_is_no_daily_file_is_said_and_nothing_else_happens(content):
    try:
        read = read_content(content, "own.csv")
    except DailyFileError:
        return
    assert read.faults


def test_a_file_without_end_is_refused():
    content = b"date,tmin_c\n" + b"2026-01-01,\n" * MOST_LINES

    with pytest.raises(DailyFileError, match="more than"):
        read_content(content, "own.csv")
