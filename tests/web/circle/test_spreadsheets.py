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
    assert "What its sheet does not say yet is asked above." in page
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


@pytest.fixture
def handed_in(winnie):
    return hand_in(winnie).headers["Location"]


@pytest.mark.parametrize(
    "sent",
    [
        {},
        {"s0.name": "spares", "s0.kind": "everything", "s0.head_row": "-1", "s0.c0": "price"},
        {"s0.name": "spares", "s0.head_row": "9999", "s0.mark_means": "0", "s0.ready_from": "soon"},
        {"s0.name": "spares", "s0.whose": "999999", "s0.material": "seedling", "s0.day_first": "?"},
        {"encoding": "rot13", "delimiter": "abc"},
        {"n0.key": "harl", "n0": "new:tree", "p0.key": "effie", "p0": "0"},
        {"n0.key": "harl", "n0": "as:harl"},
        {"r0.key": "spares!2", "r0.count": "1e9", "r0.send_by": "2027-02-30", "r0.town_key": "x"},
        {"r0.key": "nowhere!1", "r0.what": "take", "out": "spares!2"},
    ],
)
def test_answers_that_are_none_change_nothing_and_break_nothing(winnie, circle, handed_in, sent):
    assert winnie.post(handed_in, data=sent).status_code == 303
    assert winnie.get(handed_in).status_code == 200
    assert all_of(circle, SPARES) == ()


@pytest.mark.parametrize("version", ["", "0" * 16, "x" * 5000])
def test_rows_that_were_not_looked_at_do_not_go_in(winnie, circle, handed_in, version):
    winnie.post(handed_in, data=fields_of(winnie.get(handed_in).text))

    answer = winnie.post(f"{handed_in}/bring-in", data={"version": version})

    assert "The rows have changed" in winnie.get(answer.headers["Location"]).text
    assert all_of(circle, SPARES) == ()


def test_what_is_not_in_is_not_taken_back(winnie, handed_in):
    answer = winnie.post(f"{handed_in}/undo")

    assert "Nothing of this file is in." in winnie.get(answer.headers["Location"]).text


def test_a_file_is_thrown_away(winnie, handed_in):
    answer = winnie.post(f"{handed_in}/throw-away")

    assert "The file is thrown away." in winnie.get(answer.headers["Location"]).text
    assert winnie.get(handed_in).status_code == 404


def test_signs_that_were_guessed_are_shown_and_can_be_said(winnie):
    content = csv(("Variety", "Kind"), ("Café Noir", "Dahlia"), encoding="mac_roman")
    path = hand_in(winnie, content, "varieties.csv").headers["Location"]
    page = winnie.get(path).text

    assert "the file does not say how it is written" in page
    assert "Café Noir" not in page

    winnie.post(path, data={**fields_of(page), "encoding": "mac_roman"})

    assert "Café Noir" in winnie.get(path).text


def test_what_a_cell_holds_is_shown_as_text(winnie):
    content = csv(("Variety", "Kind"), ("<script>alert(1)</script>", "Dahlia"))
    path = hand_in(winnie, content, "<b>list.csv").headers["Location"]

    page = winnie.get(path).text

    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)" in page
