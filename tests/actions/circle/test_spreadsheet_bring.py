"""What a file may bring at most, and what of it is left when somebody is erased."""

import pytest

from exchange.actions.circle.erasing import erase
from exchange.actions.circle.leaving import leave
from exchange.actions.circle.page_spreadsheets import file_page
from exchange.actions.circle.spreadsheet_bring import MOST_MEMBERS, bring_in
from exchange.actions.circle.spreadsheet_kept import SpreadsheetRefusedError
from exchange.actions.circle.spreadsheets import hand_in
from exchange.actions.kernel.tasks import run_one
from exchange.domain.spreadsheet.choices import FileChoices
from exchange.jobs.kinds import KINDS
from exchange.records import MEMBERS, SPREADSHEETS
from tests.app_fixtures import NOW
from tests.builders.workbooks import csv


def handed_in(circle, rows):
    return hand_in(circle.actor("Winnie"), "members.csv", csv(*rows), NOW).id


def test_more_members_than_can_be_compared_are_refused_and_none_goes_in(circle):
    rows = [("First name", "Surname"), *((f"Ada{at}", f"Vole{at}") for at in range(MOST_MEMBERS + 1))]  # fmt: skip
    winnie, file_id = circle.actor("Winnie"), handed_in(circle, rows)
    while run_one(circle.house, KINDS, lambda: NOW):
        pass
    version = file_page(winnie, file_id).version

    bring_in(winnie, file_id, version, FileChoices(), NOW)
    while run_one(circle.house, KINDS, lambda: NOW):
        pass

    page = file_page(winnie, file_id)
    assert "at most 500 at a time" in page.task.error
    assert len(page.ready) == MOST_MEMBERS + 1
    with circle.house.books.reading() as tx:
        assert len(MEMBERS.all(tx, circle.circle_id)) < MOST_MEMBERS


def test_no_file_is_left_that_names_somebody_who_is_erased(circle):
    winnie = circle.actor("Winnie")
    file_id = handed_in(circle, [("First name", "Surname"), ("Bert", "Vole")])
    bring_in(winnie, file_id, file_page(winnie, file_id).version, FileChoices(), NOW)
    with circle.house.books.reading() as tx:
        bert = next(one for one in MEMBERS.all(tx, circle.circle_id) if one.first_name == "Bert")

    leave(winnie, bert.id, NOW)
    erase(winnie, bert.id, NOW)

    with circle.house.books.reading() as tx:
        file = SPREADSHEETS.get(tx, circle.circle_id, file_id)
    assert (file.content, file.choices, file.reading) == ("", {}, None)
    assert len(file.went_in) == 1
    with pytest.raises(SpreadsheetRefusedError, match="No row is ready"):
        bring_in(winnie, file_id, "", FileChoices(), NOW)
