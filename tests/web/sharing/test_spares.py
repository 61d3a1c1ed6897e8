"""Pages of spares: the list, one spare, listing, changing, taking off and putting back."""

import re

import pytest

from exchange.records import CLAIMS, PLACES, SPARES, VARIETIES
from tests.app_fixtures import Visitor
from tests.builders.offers import TODAY, a_claim, a_spare, a_variety, give, protect, row, rows

ANSWERS = {
    "name": "Tin Kettle",
    "kind": "dahlia",
    "count": "3",
    "material": "rooted",
    "raised": "cool",
    "ready_from": "2027-04-05",
    "send_by": "2027-05-17",
    "place": "0",
}


def answers(circle, who="Cuthbert", **more):
    return {**ANSWERS, "place": str(circle.place(who).id), **more}


def version_in(page):
    return re.search(r'name="version"[^>]*value="(\w+)"', page.text).group(1)


def spares_of(circle, who="Cuthbert"):
    return rows(circle, SPARES, household_id=circle[who].household_id)


def test_a_spare_is_listed_and_undone(circle, cuthbert):
    listed = cuthbert.post("/spares/new", answers(circle, name="Kettle One"))
    page = cuthbert.get(listed.location)
    undo = re.search(
        r'action="(/spares/\d+/withdraw)"[^>]*>(?:(?!</form>).)*Undo', page.text, re.DOTALL
    )
    cuthbert.post(undo.group(1))

    assert listed.status_code == 303
    assert "The spare is on the list." in page.text
    assert spares_of(circle)[-1].withdrawn_at is not None


def test_a_last_plant_is_asked_about_beside_a_tick_and_listed_once_ticked(circle, cuthbert):
    sent = answers(circle, name="Lone Kettle", count="1")
    assert 'name="may_go"' not in cuthbert.get("/spares/new").text

    asked = cuthbert.post("/spares/new", sent)

    assert asked.status_code == 422
    assert "the circle’s only plant of Lone Kettle: may it go?" in asked.text
    assert "Yes, it may go" in asked.text
    assert cuthbert.post("/spares/new", sent | {"may_go": "y"}).status_code == 303


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"count": "-1"}, "Write a number from 1 to 1000"),
        ({"count": "0"}, "Write a number from 1 to 1000"),
        ({"count": "1000000000"}, "Write a number from 1 to 1000"),
        ({"count": "a few"}, "Write a whole number"),
        ({"name": "n" * 61}, "longer than 60 letters"),
        ({"name": " "}, "Write the name"),
        ({"send_by": "tomorrow"}, "Write a day"),
        ({"send_by": "2027-04-01"}, "before the first"),
        ({"material": "seed"}, "Choose one of these"),
        ({"set_aside_for": "999999"}, "Choose one of these"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_is_kept(circle, cuthbert, wrong, sentence):
    before = len(rows(circle, SPARES))

    page = cuthbert.post("/spares/new", answers(circle, note="By the <b>gate</b>", **wrong))

    assert page.status_code == 422
    assert sentence in page.text
    assert "By the &lt;b&gt;gate&lt;/b&gt;" in page.text
    assert 'value="2027-04-05"' in page.text
    assert len(rows(circle, SPARES)) == before


def test_a_near_name_is_asked_about_and_the_choice_is_taken(circle, cuthbert):
    variety_id = a_variety(circle, "Lamplighter")
    asked = cuthbert.post("/spares/new", answers(circle, name="Lamplihgter"))
    cuthbert.post("/spares/new", answers(circle, name="Lamplihgter", meant=str(variety_id)))
    by_choice = spares_of(circle)[-1]
    cuthbert.post("/spares/new", answers(circle, name="Lamplihgter", meant="new"))

    assert asked.status_code == 422
    assert "Which plant is meant?" in asked.text
    assert by_choice.variety_id == variety_id
    assert spares_of(circle)[-1].variety_id != variety_id


def test_how_it_will_read_is_shown_before_anything_is_listed(circle, cuthbert):
    before = len(rows(circle, SPARES))

    page = cuthbert.post("/spares/new", answers(circle, material="unrooted", look="yes"))

    assert page.status_code == 200
    assert "Can cut from now to Mon\u00a017\u00a0May." in page.text
    assert len(rows(circle, SPARES)) == before


def test_the_tick_says_no_symptoms_seen_today_and_by_whom(circle, cuthbert):
    sent = answers(circle, name="Kettle Two", looked_over="y", health_by="Cuthbert")
    page = cuthbert.get(cuthbert.post("/spares/new", sent).location)

    assert "no symptoms seen by Cuthbert on Mon\u00a05\u00a0April" in page.text
    assert spares_of(circle)[-1].health_on == TODAY


def test_without_the_tick_nothing_is_said_of_health(circle, cuthbert):
    cuthbert.post("/spares/new", answers(circle, name="Kettle Three", health_by="Cuthbert"))

    assert (spares_of(circle)[-1].health_by, spares_of(circle)[-1].health_on) == ("", None)


def test_a_change_begins_with_what_the_spare_says(circle, cuthbert):
    spare_id = a_spare(circle, variety_id=a_variety(circle, "Kettle Four"), roots_seen=True)

    page = cuthbert.get(f"/spares/{spare_id}/change")
    changed = cuthbert.post(
        f"/spares/{spare_id}/change", answers(circle, name="Kettle Four", count="9")
    )

    assert re.search(r'<input[^>]*checked[^>]*id="roots_seen"|id="roots_seen"[^>]*>', page.text)
    assert "checked" in re.search(r'<input[^>]*name="roots_seen"[^>]*>', page.text).group()
    assert changed.status_code == 303
    assert row(circle, SPARES, spare_id).count == 9


def test_the_form_to_change_a_spare_is_only_for_its_household(circle, effie):
    spare_id = a_spare(circle, variety_id=a_variety(circle, "Kettle Five"))

    assert effie.get(f"/spares/{spare_id}/change").status_code == 403
    assert effie.post(f"/spares/{spare_id}/withdraw").status_code == 403


def test_taken_off_and_put_back(circle, cuthbert):
    spare_id = a_spare(circle, variety_id=a_variety(circle, "Kettle Six"))

    cuthbert.post(f"/spares/{spare_id}/withdraw")
    listed = cuthbert.get("/spares?find=Kettle+Six").text
    cuthbert.post(f"/spares/{spare_id}/put-back")

    assert "The spare is off the list." in listed
    assert f"spare-{spare_id}" not in listed
    assert f"spare-{spare_id}" in cuthbert.get("/spares?find=Kettle+Six").text


def test_one_press_asks_for_one_and_leads_back_to_the_row(circle, effie):
    variety_id = a_variety(circle, "Kettle Seven")
    spare_id = a_spare(circle, variety_id=variety_id)
    before = effie.get("/spares?find=Kettle+Seven").text
    back = f"/spares?find=Kettle+Seven#spare-{spare_id}"

    pressed = effie.post("/claims/one", {"variety": variety_id, "back": back})
    after = effie.get("/spares?find=Kettle+Seven").text
    (claim,) = rows(circle, CLAIMS, variety_id=variety_id)
    effie.post(f"/claims/{claim.id}/withdraw")

    assert "I would like one" in before
    assert (pressed.status_code, pressed.location) == (303, back)
    assert "asked for 1" in after
    assert "You have asked for one." in after
    assert row(circle, CLAIMS, claim.id).withdrawn_at is not None


@pytest.mark.parametrize(
    "back", ["https://example.org/", "//example.org", "/\\example.org", "javascript:x"]
)
def test_a_press_never_leads_to_another_house(circle, effie, back):
    sent = {"variety": a_variety(circle, "Kettle Eight"), "back": back}

    assert effie.post("/claims/one", sent).location == "/claims"


def test_what_is_set_aside_is_seen_by_whom_it_concerns_only(here, circle, cuthbert, effie, winnie):
    variety_id = a_variety(circle, "Kettle Nine")
    spare_id = a_spare(circle, variety_id=variety_id, set_aside_for=circle["Winnie"].household_id)

    assert effie.get(f"/spares/{spare_id}").status_code == 404
    assert f"spare-{spare_id}" not in effie.get("/spares?find=Kettle+Nine").text
    assert "Set aside for Winnie" in cuthbert.get(f"/spares/{spare_id}").text
    assert winnie.get(f"/spares/{spare_id}").status_code == 200


def test_a_held_spare_names_the_authority_and_only_the_organiser_lets_it_go(circle, effie, winnie):
    variety_id = a_variety(circle, "Copper Psalm")
    protect(circle, variety_id)
    spare_id = a_spare(circle, variety_id=variety_id)

    page = effie.get(f"/spares/{spare_id}").text
    refused = effie.post(f"/spares/{spare_id}/let-go")
    winnie.post(f"/spares/{spare_id}/let-go")

    assert "Plant Variety Rights Office" in page
    assert "let it go" not in page
    assert refused.status_code == 403
    assert not row(circle, SPARES, spare_id).held


def test_a_border_is_said_with_the_authority_on_the_spare(here, circle, effie):
    spare_id = a_spare(circle, variety_id=a_variety(circle, "Kettle Ten"))
    place = circle.place("Effie")
    with here.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place.id, subdivision="NIR")

    page = effie.get(f"/spares/{spare_id}").text
    listed = effie.get("/spares?find=Kettle+Ten").text
    with here.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place.id, subdivision=place.subdivision)

    assert "A border is in the way." in page
    assert "APHA and DAERA" in page
    assert "I would like one" not in listed


def test_a_misspelt_search_is_answered_with_what_may_be_meant(circle, effie):
    a_spare(circle, variety_id=a_variety(circle, "Ferrywoman"))

    page = effie.get("/spares?find=Ferrywomen").text

    assert "Did you mean ‘Ferrywoman’?" in page


def test_a_long_list_has_pages_and_keeps_its_search(circle, effie):
    for number in range(26):
        a_spare(circle, variety_id=a_variety(circle, f"Rowan {number:02}"))

    first = effie.get("/spares?find=Rowan&left=yes").text
    second = effie.get("/spares?find=Rowan&left=yes&page=2").text

    assert "25 of 26" in first
    assert "find=Rowan" in first
    assert "page=2" in first
    assert "1 of 26" in second
    assert effie.get("/spares?find=Rowan&page=99999999999").status_code == 200


def test_odd_addresses_show_the_list(effie):
    assert effie.get("/spares?kind=cabbage&as=&page=-4&find=%00%27%22%3Cb%3E").status_code == 200


def test_the_organiser_acting_for_a_member_lists_for_them(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Effie'].id}")

    heading = winnie.get("/spares/new").text
    winnie.post("/spares/new", answers(circle, "Effie", name="Moorland Bell"))

    assert "List a spare for Effie" in heading
    assert spares_of(circle, "Effie")[-1].entered_by == circle["Winnie"].id


def test_claims_of_others_are_counted_and_nobody_is_named(circle, cuthbert):
    variety_id = a_variety(circle, "Kettle Twelve")
    spare_id = a_spare(circle, variety_id=variety_id)
    a_claim(circle, "Effie", variety_id)

    page = cuthbert.get(f"/spares/{spare_id}").text

    assert "1\u00a0household asks" in page
    assert "Effie" not in page


def test_a_new_name_of_a_refused_spare_is_asked_for_again_with_it(circle, cuthbert):
    cuthbert.post("/spares/new", answers(circle, name="Quite Unheard", send_by="2027-04-01"))

    assert [one for one in rows(circle, VARIETIES) if one.name == "Quite Unheard"] == []


@pytest.mark.parametrize("field", ["place", "set_aside_for"])
@pytest.mark.parametrize("sent", ["99999999999999999999", "-1", "elsewhere"])
def test_what_was_not_offered_is_refused_beside_its_field(circle, cuthbert, field, sent):
    page = cuthbert.post("/spares/new", answers(circle, name="Kettle Two", **{field: sent}))

    assert page.status_code == 422
    assert f'id="{field}-error"' in page.text or f'href="#{field}' in page.text


def test_the_second_of_two_changes_is_shown_both_and_kept_when_pressed_again(circle, cuthbert):
    variety_id = a_variety(circle, "Kettle Thirteen")
    spare_id = a_spare(circle, variety_id=variety_id, count=3)
    address = f"/spares/{spare_id}/change"
    opened = version_in(cuthbert.get(address))
    said = answers(circle, name="Kettle Thirteen", version=opened)
    cuthbert.post(address, {**said, "count": "4", "note": "By the gate"})

    second = cuthbert.post(address, {**said, "count": "5"})

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "is now: “4”" in second.text
    assert "is now: “By the gate”" in second.text
    assert row(circle, SPARES, spare_id).count == 4

    third = cuthbert.post(address, {**said, "count": "5", "version": version_in(second)})

    assert third.status_code == 303
    assert row(circle, SPARES, spare_id).count == 5


def test_plants_promised_meanwhile_do_not_stand_in_the_way_of_a_change(circle, cuthbert):
    variety_id = a_variety(circle, "Kettle Fourteen")
    spare_id = a_spare(circle, variety_id=variety_id, count=3)
    address = f"/spares/{spare_id}/change"
    opened = version_in(cuthbert.get(address))
    give(circle, spare_id, a_claim(circle, variety_id=variety_id))

    said = answers(circle, name="Kettle Fourteen", version=opened, count="4")

    assert cuthbert.post(address, said).status_code == 303


@pytest.mark.parametrize("chosen", ["", "seed", "new:cabbage", "new:", "99999999999999999999"])
def test_a_row_of_the_box_takes_only_what_it_offers(circle, cuthbert, chosen):
    sent = {**ANSWERS, "lines": "3 rooted Kettle Fifteen", "rows-0-variety": chosen}
    sent |= {"rows-0-count": "3", "rows-0-material": "rooted", "rows-0-raised": "cool"}
    sent |= {"rows-0-what": "spare", "rows-0-name": "Kettle Fifteen"}
    sent |= {"rows-0-looked": "Kettle Fifteen"}

    assert cuthbert.post("/spares/box/list", sent).status_code == 422
