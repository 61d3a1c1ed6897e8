"""The circle's lists: what stands in each, and that CSV and text tell the same."""

from datetime import date
from io import BytesIO

import pytest
from python_calamine import CalamineWorkbook

from exchange.actions.circle.page_lists import circle_list
from exchange.actions.growing.varieties import name_variety
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.closures import close_day
from exchange.domain.growing.variety import Species
from exchange.records import VARIETIES
from exchange.sheets.csv_file import csv_rows
from exchange.words.circle.lists import HEADS, TITLES
from tests.app_fixtures import NOW, a_house, ring
from tests.web.walk import furnish


@pytest.fixture(scope="module")
def circle(tmp_path_factory):
    with a_house(tmp_path_factory.mktemp("lists")) as house:
        made = ring(house)
        furnish(made)
        name_variety(made.actor("Effie"), "=Lowmoor+Ember", Species.DAHLIA, NOW)
        close_day(made.actor("Winnie"), "GB", date(2027, 5, 10), "Depot shut", NOW)
        yield made


def found(circle, name):
    return circle_list(circle.actor("Winnie"), name)


def rows(circle, name):
    of = found(circle, name)
    return [dict(zip(of.heads, row, strict=True)) for row in of.rows]


def test_there_is_a_list_of_each_name():
    assert HEADS.keys() == TITLES.keys()


@pytest.mark.parametrize("name", TITLES)
def test_every_list_holds_something_and_is_read_back_equal_from_csv(circle, name):
    of = found(circle, name)

    assert of.rows
    assert csv_rows(of.csv) == [
        list(of.heads),
        *([str(cell) for cell in row] for row in of.rows),
    ]


@pytest.mark.parametrize("name", TITLES)
def test_every_list_is_read_back_equal_from_its_workbook(circle, name):
    of = found(circle, name)
    book = CalamineWorkbook.from_filelike(BytesIO(of.xlsx))

    assert book.sheet_names == [of.title]
    assert book.get_sheet_by_index(0).to_python(skip_empty_area=False) == [
        list(of.heads),
        *map(list, of.rows),
    ]


@pytest.mark.parametrize("name", TITLES)
def test_the_text_has_a_line_for_each_row_with_all_its_cells(circle, name):
    of = found(circle, name)
    lines = of.text.splitlines()

    assert len(lines) == len(of.rows)
    for line, row in zip(lines, of.rows, strict=True):
        assert [cell for cell in row if str(cell).rstrip(".") not in line] == []


def test_every_variety_is_there_once(circle):
    with circle.house.books.reading() as tx:
        names = [one.name for one in VARIETIES.all(tx, circle.circle_id, merged_into=None)]

    assert sorted(one["Name"] for one in rows(circle, "varieties")) == sorted(names)
    assert b"'=Lowmoor+Ember" in found(circle, "varieties").csv


def test_the_spare_of_effie_is_told_as_it_was_listed(circle):
    (spare,) = [one for one in rows(circle, "spares") if one["Variety"] == "Ash over Lowmoor"]

    assert (spare["Kind"], spare["Plants"]) == ("Dahlia", 2)
    assert spare["Ready from"] < spare["Send by"]


def test_the_claim_of_effie_is_told(circle):
    (claim, *_) = [one for one in rows(circle, "claims") if one["Variety"] == "Ferry Light"]

    assert (claim["Asked"], claim["Choice"]) == (1, 1)


def test_stock_and_members_are_told_with_where_they_are(circle):
    stock = rows(circle, "stock")
    members = {one["Name"]: one for one in rows(circle, "members")}

    assert {"Ash over Lowmoor", "Ferry Light"} <= {one["Variety"] for one in stock}
    assert members["Effie Pellow"]["Town"] == "Inverness"
    assert members["Winnie Pellow"]["Organiser"] == "yes"
    assert members["Effie Pellow"]["Organiser"] == ""


def test_a_parcel_tells_what_it_holds(circle):
    (parcel,) = rows(circle, "parcels")

    assert "Ferry Light" in parcel["Holds"]
    assert parcel["State"] == "planned"


def test_what_was_given_tells_who_gave_it_to_whom_and_the_answer(circle):
    (given,) = rows(circle, "given")

    assert (given["Variety"], given["Plants"]) == ("Ferry Light", 2)
    assert (given["From"], given["To"]) == ("Pellow", "Pellow 3")
    assert given["Answer"] == "yes"


def test_places_ways_and_days_without_post_are_told(circle):
    places = {one["Town"]: one for one in rows(circle, "places")}
    (closed,) = rows(circle, "closures")

    assert places["Inverness"]["Shelters"] == "cold greenhouse or frame"
    assert {one["Used"] for one in rows(circle, "ways")} <= {"yes", ""}
    assert (closed["What"], closed["Day"]) == ("Depot shut", "2027-05-10")


def test_who_did_what_is_told_with_whose_hand_it_was(circle):
    acts = {(one["Act"], one["Who"]) for one in rows(circle, "deeds")}

    assert ("listed a spare", "Effie Pellow") in acts


def test_where_somebody_lives_is_in_none_of_them(circle):
    whole = "\n".join(found(circle, name).text for name in TITLES)

    assert "Hidden Lane" not in whole
    assert "water butt" not in whole


def test_only_the_organiser_has_them(circle):
    with pytest.raises(NotAllowedError):
        circle_list(circle.actor("Effie"), "members")


def test_there_is_no_other_list(circle):
    with pytest.raises(KeyError):
        found(circle, "orchards")
