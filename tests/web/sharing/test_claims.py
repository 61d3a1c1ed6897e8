"""Pages of claims: one's own, the two steps, wishes, declining."""

import re
from datetime import date

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.domain.sharing.states import AllocationState, ShareOutState
from exchange.records import ALLOCATIONS, ANSWERS, CLAIMS, SHARE_OUTS
from tests.builders.offers import a_batch, a_claim, a_spare, a_variety, give, row, rows


def step(circle, **more):
    usual = {"asked": "2", "materials": ["rooted", "clump"], "choice": "1"}
    return {**usual, "place": str(circle.place("Effie").id), **more}


def claims_on(circle, variety_id):
    return rows(circle, CLAIMS, variety_id=variety_id, withdrawn_at=None)


def test_a_claim_is_made_in_two_steps_without_a_script(circle, effie):
    variety_id, other = a_variety(circle, "Kettle One"), a_variety(circle, "Kettle Other")
    a_spare(circle, variety_id=other)
    address = f"/claims/for/{variety_id}"

    first = effie.get(address).text
    second = effie.post(address, step(circle, no_use_after="2027-05-09", go_to="2")).text
    made = effie.post(
        address, step(circle, no_use_after="2027-05-09", choice="2", alternatives=[str(other)])
    )

    (claim,) = claims_on(circle, variety_id)
    assert "How many would you like?" in first
    assert 'name="no_use_after" value="2027-05-09"' in second
    assert "Among your own claims" in second
    assert made.location == "/claims"
    assert (claim.asked, claim.choice, claim.alternatives) == (2, 2, (other,))
    assert claim.no_use_after == date(2027, 5, 9)
    assert {one.value for one in claim.materials} == {"rooted", "clump"}


def test_going_back_to_the_first_step_keeps_what_the_second_said(circle, effie):
    address = f"/claims/for/{a_variety(circle, 'Kettle Two')}"

    page = effie.post(address, step(circle, choice="3", go_to="1")).text

    assert '<input type="hidden" name="choice" value="3">' in page
    assert 'value="2"' in page


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"asked": "0"}, "Write a number from 1 to 100"),
        ({"asked": "-1"}, "Write a number from 1 to 100"),
        ({"asked": "1000000000"}, "Write a number from 1 to 100"),
        ({"asked": "lots"}, "Write a whole number"),
        ({"materials": []}, "Tick at least one thing"),
        ({"materials": ["seed"]}, "not a valid choice"),
        ({"no_use_after": "2027-04-01"}, "That day has passed"),
        ({"choice": "4"}, "Choose one of these"),
    ],
)
def test_what_is_wrong_is_said_on_the_step_it_belongs_to(circle, effie, wrong, sentence):
    variety_id = a_variety(circle, "Kettle Three")

    page = effie.post(f"/claims/for/{variety_id}", step(circle, **wrong))

    assert page.status_code == 422
    assert claims_on(circle, variety_id) == ()
    assert sentence in page.text


def test_an_open_claim_fills_the_form(circle, effie):
    variety_id = a_variety(circle, "Kettle Four")
    a_claim(circle, variety_id=variety_id, asked=7)

    assert 'value="7"' in effie.get(f"/claims/for/{variety_id}").text


def test_the_usual_materials_are_ticked_on_a_first_visit(circle, effie):
    page = effie.get(f"/claims/for/{a_variety(circle, 'Kettle Five')}").text

    assert page.count("checked") == 4


def test_taken_back_and_put_back(circle, effie):
    variety_id = a_variety(circle, "Kettle Six")
    claim_id = a_claim(circle, variety_id=variety_id)

    effie.post(f"/claims/{claim_id}/withdraw")
    page = effie.get("/claims").text
    effie.post(f"/claims/{claim_id}/put-back")

    assert f'action="/claims/{claim_id}/put-back"' in page
    assert row(circle, CLAIMS, claim_id).withdrawn_at is None


def test_nobody_takes_back_the_claim_of_another(circle, cuthbert):
    claim_id = a_claim(circle, variety_id=a_variety(circle, "Kettle Seven"))

    assert cuthbert.post(f"/claims/{claim_id}/withdraw").status_code == 403


def test_the_reason_of_an_unmet_claim_is_told(here, circle, effie):
    claim_id = a_claim(circle, variety_id=a_variety(circle, "Kettle Eight"))
    with here.house.books.writing() as tx:
        share_out_id = SHARE_OUTS.add(
            tx, circle.circle_id, name="April", opens_on=date(2027, 3, 1),
            closes_on=date(2027, 4, 4), draw_hash="", draw_number="", state=ShareOutState.CONFIRMED,
        )  # fmt: skip
        ANSWERS.add(
            tx, circle.circle_id, share_out_id=share_out_id, claim_id=claim_id, given=0,
            reason={"sentence": "The 2 there were went to two who had none of it yet."},
        )  # fmt: skip

    page = effie.get("/claims").text

    assert "not met last time" in page
    assert "went to two who had none of it yet." in page


def test_what_is_coming_is_named_and_what_it_is_in_place_of(circle, effie):
    wanted, other = a_variety(circle, "Kettle Wanted"), a_variety(circle, "Kettle Instead")
    spare_id = a_spare(circle, "Winnie", other, count=2)
    claim_id = a_claim(circle, variety_id=wanted, asked=2, alternatives=(other,))
    give(circle, spare_id, claim_id)

    page = effie.get("/claims").text.replace("\u00a0", " ")

    assert (
        "1 rooted cutting of Dahlia ‘Kettle Instead’, raised cool, in place of"
        " Dahlia ‘Kettle Wanted’, as your claim allows"
    ) in page
    assert "1 of 2" in page


def test_what_is_given_can_be_declined(circle, effie):
    variety_id = a_variety(circle, "Kettle Nine")
    claim_id = a_claim(circle, variety_id=variety_id, asked=2)
    allocation_id = give(circle, a_spare(circle, variety_id=variety_id), claim_id)
    page = effie.get("/claims").text

    effie.post(f"/claims/given/{allocation_id}/decline")

    assert "in part" in page
    assert "1 of 2" in page
    assert row(circle, ALLOCATIONS, allocation_id).state == AllocationState.DECLINED


def test_a_wish_leads_who_grows_it_to_listing_cuttings(circle, cuthbert, effie):
    variety_id = a_variety(circle, "Wished Kettle")
    a_batch(circle, "Cuthbert", variety_id)
    a_claim(circle, "Effie", variety_id)

    page = cuthbert.get("/claims").text
    form = cuthbert.get(f"/spares/new?variety={variety_id}&as=unrooted").text

    assert f"/spares/new?variety={variety_id}&amp;as=unrooted" in page
    assert "Effie" not in page
    assert 'value="Wished Kettle"' in form
    assert '<option selected value="unrooted">' in form


def test_forty_alternatives_are_folded(circle, effie):
    others = tuple(a_variety(circle, f"Alternative {number}") for number in range(40))
    a_claim(circle, variety_id=a_variety(circle, "Kettle Ten"), alternatives=others)

    assert "or one of 40 others" in effie.get("/claims").text


def test_a_press_without_a_variety_or_for_one_that_is_not_there_is_refused(effie):
    assert effie.post("/claims/one", {}).status_code == 400
    assert effie.post("/claims/one", {"variety": "999999"}).status_code == 404
    assert effie.get("/claims/for/999999").status_code == 404


def test_an_alternative_may_go_off_the_list_while_somebody_writes(circle, effie):
    variety_id, gone = a_variety(circle, "Kettle Eleven"), a_variety(circle, "Gone Kettle")
    address = f"/claims/for/{variety_id}"

    assert effie.post(address, step(circle, alternatives=[str(gone)])).status_code == 303
    assert effie.post(address, step(circle, alternatives=["999999"])).status_code == 404


def version_in(page):
    return re.search(r'name="version"[^>]*value="(\w+)"', page.text).group(1)


def test_the_second_of_two_edits_of_a_claim_is_shown_both_and_kept_when_pressed_again(
    circle, effie
):
    variety_id = a_variety(circle, "Kettle Twelve")
    a_claim(circle, variety_id=variety_id)
    address = f"/claims/for/{variety_id}"
    opened = version_in(effie.get(address))
    on = version_in(effie.post(address, step(circle, version=opened, go_to="2")))
    effie.post(address, step(circle, version=opened, asked="3", choice="2"))

    second = effie.post(address, step(circle, version=on, asked="4"))

    assert (on, second.status_code) == (opened, 422)
    assert "changed by somebody else" in second.text
    assert "is now: “3”" in second.text
    assert "is now: My second choice" in second.text
    assert [one.asked for one in claims_on(circle, variety_id)] == [3]

    third = effie.post(address, step(circle, version=version_in(second), asked="4"))

    assert third.status_code == 303
    assert [(one.asked, one.choice) for one in claims_on(circle, variety_id)] == [(4, 1)]


def test_a_claim_made_meanwhile_by_the_other_of_a_couple_is_not_overwritten_unseen(circle, effie):
    variety_id = a_variety(circle, "Kettle Thirteen")
    address = f"/claims/for/{variety_id}"
    opened = version_in(effie.get(address))
    a_claim(circle, variety_id=variety_id, asked=5)

    second = effie.post(address, step(circle, version=opened))

    assert second.status_code == 422
    assert "is now: “5”" in second.text
    assert [one.asked for one in claims_on(circle, variety_id)] == [5]


def test_what_is_given_already_leaves_a_claim_for_more_to_be_made(circle, effie):
    variety_id = a_variety(circle, "Kettle Fourteen")
    claim_id = a_claim(circle, variety_id=variety_id, asked=2)
    give(circle, a_spare(circle, variety_id=variety_id), claim_id)
    address = f"/claims/for/{variety_id}"
    opened = version_in(effie.get(address))

    assert effie.post(address, step(circle, version=opened)).status_code == 303


def test_one_press_beside_the_row_makes_the_change_that_would_help(circle, effie):
    variety_id, other = a_variety(circle, "Kettle Stuck"), a_variety(circle, "Kettle Instead")
    a_spare(circle, variety_id=variety_id, material=Material.STOOL)
    made = effie.post("/claims/one", {"variety": str(variety_id), "back": "/spares"})
    told = effie.get(made.location).text
    a_claim(
        circle, variety_id=variety_id, asked=2, choice=3, alternatives=(other,),
        no_use_after=date(2027, 5, 9),
    )  # fmt: skip

    page = effie.get("/claims").text
    button = page.index("Also take stools")
    form = page[page.rindex("<form", 0, button) : button]
    sent: dict[str, list[str]] = {}
    for name, value in re.findall(r'name="([^"]+)" value="([^"]*)"', form):
        sent.setdefault(name, []).append(value)
    pressed = effie.post(f"/claims/for/{variety_id}", sent)

    (claim,) = claims_on(circle, variety_id)
    assert "You have asked for one. Nothing offered can meet it yet" in told
    assert "not as anything ticked in the claim" in page
    assert pressed.status_code == 303
    assert (claim.asked, claim.choice, claim.alternatives) == (2, 3, (other,))
    assert claim.no_use_after == date(2027, 5, 9)
    assert claim.materials == USUAL_MATERIALS | {Material.STOOL}
    assert "Nothing offered can meet it yet" not in effie.get("/claims").text
