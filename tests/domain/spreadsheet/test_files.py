"""Dirty files of our own making: every row is read right, asked about or refused, none silently wrong."""

from collections import Counter
from dataclasses import replace

import pytest

from exchange.sheets.any_file import read_sheets
from exchange.sheets.refused_file import UnreadableFileError
from tests.domain.spreadsheet.scoring import score
from tests.domain.spreadsheet.text_files import PLAIN, TEXT_FILES
from tests.domain.spreadsheet.workbook_files import WORKBOOK_FILES

FILES = (*TEXT_FILES, *WORKBOOK_FILES)


@pytest.mark.parametrize("file", [one for one in FILES if not one.refused], ids=str)
def test_what_is_read_is_what_is_meant(file):
    counts, wrong = score(file)

    assert wrong == []
    assert counts["right"] == file.right, counts


@pytest.mark.parametrize("file", [one for one in FILES if one.refused], ids=str)
def test_what_cannot_be_read_is_refused_with_a_sentence(file):
    with pytest.raises(UnreadableFileError, match=file.refused):
        read_sheets(file.name, file.content)


def test_of_all_rows_none_is_silently_wrong():
    counts, wrong = Counter(), []
    for file in FILES:
        of_one, silently = score(file)
        counts += of_one
        wrong += silently

    assert len(FILES) >= 30
    assert wrong == []
    assert counts == {"right": 44, "asked": 89, "refused": 7, "left out": 15}


def test_a_row_that_is_read_otherwise_is_seen():
    tampered = replace(
        PLAIN, means={**PLAIN.means, "2": "Effie Marsh: gives 4 rooted dahlia Tin Kettle"}
    )

    assert len(score(tampered)[1]) == 1


def test_a_row_that_means_something_and_is_passed_over_is_seen():
    tampered = replace(PLAIN, means={**PLAIN.means, "4": "Effie Marsh: gives 1 rooted salvia Rust"})

    assert len(score(tampered)[1]) == 1
