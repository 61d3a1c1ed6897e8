"""Dirty files of our own making: every row is read right, asked about or refused, none silently wrong."""

import pytest

from exchange.sheets.any_file import read_sheets
from exchange.sheets.refused_file import UnreadableFileError
from tests.domain.spreadsheet.scoring import score
from tests.domain.spreadsheet.text_files import TEXT_FILES
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
