from datetime import date

import pytest

from exchange.reference.daily_file import MOST_LINES, DailyFileError, read_content


def test_minima_and_highs_are_read_and_gaps_left_out():
    read = read_content(
        b"date,tmin_c,tmax_c\n2026-01-01,-1.5,4\n2026-01-02,,5\n2026-01-03,0.5,\n", "own.csv"
    )

    assert [(r.day, r.minimum_c, r.maximum_c) for r in read.days] == [
        (date(2026, 1, 1), -1.5, 4.0),
        (date(2026, 1, 3), 0.5, None),
    ]
    assert read.empty == 1


def test_a_file_without_highs_is_enough():
    (day,) = read_content("\ufeffDate,tmin\n2026-01-01,3\n".encode(), "own.csv").days

    assert day.maximum_c is None


@pytest.mark.parametrize(
    ("content", "sentence"), [(b"", "is empty"), (b"day,rain\n2026-01-01,3\n", "needs the columns")]
)
def test_what_is_wrong_with_a_whole_file_is_said(content, sentence):
    with pytest.raises(DailyFileError, match=sentence):
        read_content(content, "own.csv")


@pytest.mark.parametrize("line", [b"yesterday,4", b"2026-01-02,cold", b"2026-01-02"])
def test_what_is_wrong_in_a_line_is_said(line):
    read = read_content(b"date,tmin_c\n2026-01-01,3\n" + line + b"\n", "own.csv")

    assert [fault.line for fault in read.faults] == [3]


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
