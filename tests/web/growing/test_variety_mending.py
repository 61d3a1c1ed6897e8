"""Pages that mend varieties: correct, make one, undo, take off the list."""

import pytest

from exchange.actions.growing.merge_varieties import merge
from exchange.records import MERGERS, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.edits import version_in
from tests.builders.offers import a_batch, a_claim, a_spare, a_variety, row, rows


def correction(page, **more):
    usual = {
        "name": "Tin Kettle",
        "kind": "dahlia",
        "trade_name": "",
        "group_id": "0",
        "size_id": "0",
        "version": version_in(page),
    }
    return {**usual, **more}


def test_a_name_is_corrected_and_the_code_named_beside_it(circle, winnie):
    known = a_variety(circle, "Tinn Ketle")
    page = winnie.get(f"/varieties/{known}/correct")

    answer = winnie.post(f"/varieties/{known}/correct", correction(page, name="Kettle Improved"))

    assert answer.status_code == 303
    assert row(circle, VARIETIES, known).name == "Kettle Improved"
    after = winnie.get(answer.location).text
    assert "“Improved” is one of the words a new epithet may not contain (Article 21)." in after


def test_a_taken_name_is_refused_beside_its_field(circle, winnie):
    a_variety(circle, "Tin Kettle")
    known = a_variety(circle, "Tinn Ketle")
    page = winnie.get(f"/varieties/{known}/correct")

    answer = winnie.post(f"/varieties/{known}/correct", correction(page))

    assert answer.status_code == 422
    assert 'id="name-error"' in answer.text


def test_where_others_have_something_the_page_says_whom_to_tell(circle, effie):
    known = a_variety(circle)
    a_batch(circle, "Cuthbert", known)

    page = effie.get(f"/varieties/{known}/correct", follow_redirects=True).text

    assert "Tell the organiser what its name should be." in page


def test_what_moves_is_shown_and_pressed_and_undone(circle, winnie):
    kept, merged = a_variety(circle, "Tin Kettle"), a_variety(circle, "Tinn Kettle")
    a_spare(circle, variety_id=merged)
    for one in (kept, merged):
        a_claim(circle, "Effie", one)

    shown = winnie.get(f"/varieties/{merged}/merge?into={kept}").text
    pressed = winnie.post(f"/varieties/{merged}/merge", {"into": kept})

    for said in (
        "1\u00a0entry of plants",
        "1\u00a0spare",
        "1\u00a0claim",
        "household asks for both",
    ):
        assert said in shown
    assert "made one with it on Mon\u00a05\u00a0April" in winnie.get(pressed.location).text
    merger = rows(circle, MERGERS)[-1]
    undone = winnie.post(f"/varieties/mergers/{merger.id}/undo")
    assert undone.location == f"/varieties/{merged}"
    assert row(circle, VARIETIES, merged).merged_into is None


def test_the_one_most_alike_is_offered_first(circle, winnie):
    for name in ("Ash over Lowmoor", "Tin Kettle", "Copper Pan"):
        a_variety(circle, name)
    merged = a_variety(circle, "Tinn Kettle")

    page = winnie.get(f"/varieties/{merged}/merge").text

    assert page.index("Tin Kettle’") < page.index("Ash over")


def test_a_member_sees_that_two_were_made_one_but_does_not_undo_it(circle, effie):
    kept, merged = a_variety(circle, "Tin Kettle"), a_variety(circle, "Tinn Kettle")
    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)

    page = effie.get(f"/varieties/{merged}").text

    assert "‘Tinn Kettle’ was made one with it" in page
    assert f"/varieties/mergers/{merger_id}/undo" not in page
    assert effie.post(f"/varieties/mergers/{merger_id}/undo").status_code == 403


def test_an_empty_one_goes_and_undo_brings_it_back(circle, winnie):
    known = a_variety(circle, "Tinn Ketle")

    gone = winnie.post(f"/varieties/{known}/remove", follow_redirects=True).text
    assert f"/varieties/{known}/put-back" in gone
    winnie.post(f"/varieties/{known}/put-back")

    assert row(circle, VARIETIES, known).removed_at is None


@pytest.mark.parametrize("make", [a_batch, a_claim])
def test_what_stands_in_the_way_is_said_on_the_page(circle, winnie, make):
    known = a_variety(circle)
    make(circle, "Effie", known)

    page = winnie.get(f"/varieties/{known}/correct").text
    refused = winnie.post(f"/varieties/{known}/remove", follow_redirects=True).text

    assert "It cannot be taken off the list." in page
    assert f"/varieties/{known}/remove" not in page
    assert "Somebody still" in refused
