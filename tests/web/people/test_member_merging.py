"""The page on which a member entered twice becomes one."""

from exchange.actions.people.members import NewMember, add_member
from exchange.records import MEMBERS, MERGERS
from tests.app_fixtures import NOW
from tests.builders.offers import a_batch, a_claim, a_spare, a_variety, give, row, rows


def test_what_moves_is_shown_and_pressed_and_undone(circle, winnie):
    again = add_member(circle.actor("Winnie"), NewMember("Euphemia", "Pellow"), NOW)
    a_batch(circle, "Effie", a_variety(circle))
    effie = circle["Effie"].id

    shown = winnie.get(f"/people/{effie}/merge?into={again}").text
    pressed = winnie.post(f"/people/{effie}/merge", {"into": again}, follow_redirects=True).text

    assert "1\u00a0entry of plants" in shown
    assert "1\u00a0place" in shown
    assert f"They go on signing in as {circle['Effie'].email}." in shown
    merger = rows(circle, MERGERS)[-1]
    assert f"/people/mergers/{merger.id}/undo" in pressed
    assert row(circle, MEMBERS, effie).merged_into == again
    assert "Undo" in winnie.get(f"/people/{again}/merge").text
    winnie.post(f"/people/mergers/{merger.id}/undo")
    assert row(circle, MEMBERS, effie).left_at is None


def test_what_stands_between_them_is_said_instead_of_the_button(circle, winnie):
    give(circle, a_spare(circle, "Cuthbert"), a_claim(circle, "Effie"))
    effie, cuthbert = circle["Effie"].id, circle["Cuthbert"].id

    shown = winnie.get(f"/people/{effie}/merge?into={cuthbert}").text
    refused = winnie.post(f"/people/{effie}/merge", {"into": cuthbert})

    assert "promised to the other" in shown
    assert "Make the two one" not in shown
    assert refused.status_code == 422


def test_who_signs_in_on_goes_on(here, circle, winnie, effie):
    again = add_member(circle.actor("Winnie"), NewMember("Euphemia", "Pellow"), NOW)

    winnie.post(f"/people/{circle['Effie'].id}/merge", {"into": again})

    page = effie.get("/", follow_redirects=True)
    assert page.status_code == 200
    assert "Euphemia" in page.text
