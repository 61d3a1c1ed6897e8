"""The circle's lists on pages: kept as CSV, copied as text."""

import pytest

from exchange.sheets.csv_file import csv_rows
from exchange.words.circle.lists import HEADS, TITLES
from tests.web.walk import furnish


@pytest.fixture
def furnished(circle):
    furnish(circle)


@pytest.mark.usefixtures("furnished")
@pytest.mark.parametrize("name", TITLES)
def test_each_list_is_shown_with_its_file_and_its_text(winnie, name):
    page = winnie.get(f"/lists/{name}").text
    file = winnie.get(f"/lists/{name}.csv")

    assert f'href="/lists/{name}.csv"' in page
    assert "As plain text" in page
    assert "data-copy" in page
    assert file.mimetype == "text/csv"
    assert file.headers["Content-Disposition"] == f'attachment; filename="{name}.csv"'
    assert csv_rows(file.data)[0] == list(HEADS[name])
    assert len(csv_rows(file.data)) > 1


def test_an_empty_list_says_so(winnie):
    assert "The list is empty." in winnie.get("/lists/parcels").text


def test_the_circles_page_leads_there(winnie):
    assert 'href="/lists/members"' in winnie.get("/circle").text


def test_there_is_no_other_list(winnie):
    assert winnie.get("/lists/orchards").status_code == 404
