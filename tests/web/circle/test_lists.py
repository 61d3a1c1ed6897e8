"""The circle's lists on pages: kept as spreadsheets, copied as text, printed."""

from datetime import date

import pytest

from exchange.actions.posting.closures import close_day
from exchange.sheets.csv_file import csv_rows
from exchange.web.circle.lists import XLSX
from exchange.words.circle.lists import HEADS, TITLES
from tests.app_fixtures import NOW
from tests.web.walk import furnish


@pytest.fixture
def furnished(circle):
    furnish(circle)
    close_day(circle.actor("Winnie"), "GB", date(2027, 5, 10), "Depot shut", NOW)


@pytest.mark.usefixtures("furnished")
@pytest.mark.parametrize("name", TITLES)
def test_each_list_is_shown_with_its_file_and_its_text(winnie, name):
    page = winnie.get(f"/lists/{name}").text
    file = winnie.get(f"/lists/{name}.csv")

    assert f'href="/lists/{name}.csv"' in page
    assert f'href="/lists/{name}.xlsx"' in page
    assert "As plain text" in page
    assert "data-copy" in page
    assert file.mimetype == "text/csv"
    assert file.headers["Content-Disposition"] == f'attachment; filename="{name}.csv"'
    assert csv_rows(file.data)[0] == list(HEADS[name])
    assert len(csv_rows(file.data)) > 1


@pytest.mark.usefixtures("furnished")
@pytest.mark.parametrize("name", TITLES)
def test_each_list_is_a_workbook_and_a_page_to_print(winnie, name):
    file = winnie.get(f"/lists/{name}.xlsx")
    page = winnie.get(f"/lists/{name}/print").text

    assert file.mimetype == XLSX
    assert file.headers["Content-Disposition"] == f'attachment; filename="{name}.xlsx"'
    assert file.data.startswith(b"PK")
    for head in HEADS[name]:
        assert head in page


@pytest.mark.parametrize(
    ("page", "name"),
    [
        ("/spares", "spares"),
        ("/claims", "claims"),
        ("/varieties", "varieties"),
        ("/parcels", "parcels"),
        ("/circle", "members"),
        ("/circle/ways", "ways"),
        ("/circle/closures", "closures"),
        ("/who-did-what/everybody", "deeds"),
    ],
)
def test_each_list_is_reached_from_its_own_page(winnie, page, name):
    assert f'href="/lists/{name}"' in winnie.get(page).text


@pytest.mark.parametrize("page", ["/spares", "/claims", "/varieties", "/parcels", "/circle"])
def test_a_member_is_offered_no_whole_list(effie, page):
    assert "/lists/" not in effie.get(page).text


def test_an_empty_list_says_so(winnie):
    assert "The list is empty." in winnie.get("/lists/parcels").text


def test_the_circles_page_leads_there(winnie):
    assert 'href="/lists/members"' in winnie.get("/circle").text


def test_there_is_no_other_list(winnie):
    assert winnie.get("/lists/orchards").status_code == 404
