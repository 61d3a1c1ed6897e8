"""Reading a spreadsheet in: handed over, looked at, answered for, brought in, taken back."""

import io

import pytest

from exchange.records import SPARES
from tests.builders.forms_sent import fields_of
from tests.builders.workbooks import csv

SPARES_FILE = csv(
    ("Variety", "Kind", "Whose", "How many", "Sent as"),
    ("Tin Kettle", "Dahlia", "Effie", "3", "rooted"),
    ("Brass Thimble", "Pelargonium", "Cuthbert", "2", "young plant"),
    ("Harl", "Dahlia", "Effie", "ca. 4", "rooted"),
)


def hand_in(visitor, content=SPARES_FILE, name="spares.csv"):
    return visitor.post("/read-in", data={"file": (io.BytesIO(content), name)})


def all_of(circle, repository):
    with circle.house.books.reading() as tx:
        return repository.all(tx, circle.circle_id)


def test_a_list_of_spares_is_looked_over_answered_for_and_brought_in(winnie, circle):
    taken = hand_in(winnie)
    path = taken.headers["Location"]
    page = winnie.get(path).text

    assert "Nothing is changed yet" in page
    assert "how they were raised, from when it is ready and by when to send it." in page
    assert all_of(circle, SPARES) == ()

    winnie.post(path, data=fields_of(page))
    page = winnie.get(path).text

    assert "2\u00a0spares" in page
    assert "Tin Kettle, Brass Thimble" in page
    assert "how many" in page

    went = winnie.post(f"{path}/bring-in", data=fields_of(page))
    page = winnie.get(went.headers["Location"]).text

    assert "2\u00a0rows went in." in page
    spares = all_of(circle, SPARES)
    assert sorted(one.count for one in spares) == [2, 3]
    assert {one.household_id for one in spares} == {
        circle["Effie"].household_id, circle["Cuthbert"].household_id,
    }  # fmt: skip


@pytest.mark.parametrize("who", ["effie"])
def test_only_the_organiser_reads_files_in(request, who):
    visitor = request.getfixturevalue(who)

    assert visitor.get("/read-in").status_code == 403
    assert hand_in(visitor).status_code == 403


def test_a_file_that_is_no_list_is_refused_beside_the_field(winnie):
    answer = hand_in(winnie, b"%PDF-1.7", "list.pdf")

    assert answer.status_code == 422
    assert "This is a PDF" in answer.text
