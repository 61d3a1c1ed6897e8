"""The share-out on pages: for the organiser, for members, in circles small and large."""

import re
from datetime import timedelta
from pathlib import Path

import pytest

from exchange import web
from exchange.actions.kernel.tasks import run_one
from exchange.actions.sharing.claims import ASKED_AGAIN_AFTER
from exchange.actions.sharing.share_out_proposal import choices_of
from exchange.jobs.kinds import KINDS
from tests.app_fixtures import NOW, Visitor, site
from tests.builders.edits import version_in
from tests.builders.shared import a_sharing
from tests.builders.tasks import offer_to_reserve


@pytest.fixture
def here(tmp_path):
    with site(tmp_path) as made:
        yield made


@pytest.fixture
def sharing(here):
    made = a_sharing(here.house)
    variety = made.name()
    made.spare = made.offer("Winnie", variety)
    made.left = made.offer("Winnie", made.name("Tin Whistle"), count=2)
    made.met = made.ask("Cuthbert", variety, choice=1)
    made.lost = made.ask("Effie", variety, choice=3)
    return made


@pytest.fixture
def organiser(here, sharing):
    return Visitor(here, sharing.ring["Winnie"])


def as_read(text):
    """Give the words of a page's main part."""
    main = text[text.index("<main") : text.index("</main")]
    return " ".join(re.sub(r"<[^>]+>", " ", main).replace("\xa0", " ").split())


def work(here):
    while run_one(here.house, KINDS, here.clock):
        pass


def test_a_choice_is_made_on_a_page_and_worked_out_again(here, sharing, organiser):
    sharing.open()
    sharing.work_out()
    page = f"/share-out/{sharing.share_out_id}"
    assert f'href="{page}/choose/{sharing.lost}"' in organiser.get(page).text
    form = organiser.get(f"{page}/choose/{sharing.lost}").text
    assert "1 rooted cutting" in as_read(form)
    refused = organiser.post(
        f"{page}/choose/{sharing.lost}",
        {"spare": sharing.spare, "what": "pin", "count": "-1", "reason": "so agreed"},
    )
    assert refused.status_code == 422
    assert "Write how many plants, 1 or more." in refused.text
    chosen = {"spare": sharing.spare, "what": "pin", "count": "1", "reason": "so agreed"}
    assert organiser.post(f"{page}/choose/{sharing.lost}", chosen).status_code == 303
    work(here)
    text = as_read(organiser.get(page).text)
    assert "What you chose" in text
    assert "so agreed" in text
    organiser.post(f"{page}/confirm")
    assert sharing.standing() == {sharing.lost: 1}


def test_the_second_of_two_choices_for_a_claim_is_shown_both_and_kept_when_pressed_again(
    sharing, organiser
):
    sharing.open()
    sharing.work_out()
    address = f"/share-out/{sharing.share_out_id}/choose/{sharing.lost}"
    opened = version_in(organiser.get(address))
    said = {"spare": sharing.spare, "what": "pin", "count": "1", "reason": "her last died"}
    apart = {**said, "what": "forbid", "reason": "sick stock", "version": opened}
    assert organiser.post(address, apart).status_code == 303

    second = organiser.post(address, {**said, "version": opened})

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "is now: “sick stock”" in second.text
    assert [one.reason for one in choices_of(sharing.row())] == ["sick stock"]

    third = organiser.post(address, {**said, "version": version_in(second)})

    assert third.status_code == 303
    assert [one.reason for one in choices_of(sharing.row())] == ["her last died"]


def test_two_choices_for_different_claims_lose_nothing_of_each_other(sharing, organiser):
    sharing.open()
    sharing.work_out()
    page = f"/share-out/{sharing.share_out_id}/choose"
    opened = {
        one: version_in(organiser.get(f"{page}/{one}")) for one in (sharing.met, sharing.lost)
    }

    for claim, version in opened.items():
        said = {"spare": sharing.spare, "what": "forbid", "reason": f"{claim}", "version": version}
        assert organiser.post(f"{page}/{claim}", said).status_code == 303

    assert {one.claim_id for one in choices_of(sharing.row())} == opened.keys()


def test_other_terms_are_tried_from_the_page(here, sharing, organiser):
    sharing.open()
    sharing.work_out()
    page = f"/share-out/{sharing.share_out_id}"
    organiser.post(f"{page}/other-terms")
    work(here)
    text = as_read(organiser.get(page).text)
    assert "With each of these alone, the rest as it is" in text
    assert "Who gave comes first for a first plant" in text


def test_a_change_after_working_out_is_said_before_confirming(sharing, organiser):
    sharing.open()
    sharing.work_out()
    sharing.ask("Odo", sharing.name("Brass Pin"))
    text = as_read(organiser.get(f"/share-out/{sharing.share_out_id}").text)
    assert "has to be worked out again before it can be confirmed" in text
    assert "Confirm the share-out" not in text


def test_a_member_asks_why_and_reads_it_without_a_name(here, sharing):
    sharing.all_of_it()
    effie = Visitor(here, sharing.ring["Effie"])
    assert f"/claims/{sharing.lost}/why" in effie.get("/claims").text
    effie.post(f"/claims/{sharing.lost}/why")
    assert "It is being worked out" in as_read(effie.get(f"/claims/{sharing.lost}/why").text)
    work(here)
    text = as_read(effie.get(f"/claims/{sharing.lost}/why").text)
    assert "Had you had it, another household would have been given nothing at all" in text
    assert "stays open and counts in the next share-out" in text
    assert not any(name in text for name in ("Winnie", "Cuthbert"))
    cuthbert = Visitor(here, sharing.ring["Cuthbert"])
    assert cuthbert.get(f"/claims/{sharing.lost}/why").status_code == 403


def test_a_claim_met_in_part_is_asked_about_and_its_rest_taken_back(here, sharing):
    claim = sharing.ask("Cuthbert", sharing.name("Tin Kettle"), asked=2)
    sharing.offer("Winnie", sharing.claim_row(claim).variety_id)
    sharing.all_of_it()
    here.clock.at = NOW + ASKED_AGAIN_AFTER + timedelta(days=1)
    cuthbert = Visitor(here, sharing.ring["Cuthbert"])

    page = cuthbert.get("/claims").text
    assert "Say so, or take the rest back" in as_read(page)
    assert f'action="/claims/{claim}/still-wanted"' in page
    cuthbert.post(f"/claims/{claim}/withdraw")
    after = as_read(cuthbert.get("/claims").text)

    assert "take the rest back" not in after
    assert "1 of 1" in after
    assert "Take back the rest" not in after


def test_an_organiser_reads_of_the_household_by_name(here, sharing, organiser):
    sharing.all_of_it()
    organiser.post(f"/claims/{sharing.lost}/why")
    work(here)

    text = as_read(organiser.get(f"/claims/{sharing.lost}/why").text)

    assert "Effie’s claim: Dahlia" in text
    assert "Had Effie had it, another household" in text
    assert "Effie’s claim for 1" in text
    assert "Your claim" not in text


def test_every_member_finds_the_hash_and_later_the_number(here, sharing):
    effie = Visitor(here, sharing.ring["Effie"])
    sharing.open("a secret number")
    text = effie.get("/claims/share-out").text
    assert sharing.row().draw_hash in text
    sharing.work_out()
    sharing.confirm()
    after = effie.get("/claims/share-out").text
    assert "a secret number" in after
    assert f"{sharing.lost} (yours)" in after


def test_left_overs_go_at_a_press(here, sharing):
    sharing.all_of_it()
    effie = Visitor(here, sharing.ring["Effie"])
    assert "I would like one" in as_read(effie.get("/spares/left-over").text)
    effie.post(f"/spares/left-over/{sharing.left}")
    effie.post(f"/spares/left-over/{sharing.left}")
    again = effie.post(f"/spares/left-over/{sharing.left}", follow_redirects=True)
    assert "It is no longer to be had." in again.text
    assert sharing.spare_row(sharing.left).allocated == 2


def test_what_a_sender_will_not_send_somebody_does_not_stand_on_their_page(here, sharing):
    sharing.ask("Effie", sharing.spare_row(sharing.left).variety_id)
    sharing.all_of_it()
    one = next(one for one in sharing.given() if one.spare_id == sharing.left)
    Visitor(here, sharing.ring["Winnie"]).post(f"/claims/send/{one.id}/no")
    offer_to_reserve(sharing.organiser)
    effie = Visitor(here, sharing.ring["Effie"])
    text = as_read(effie.get("/spares/left-over").text)
    assert "Nothing of the last share-out is to be had now." in text
    assert "Tin Whistle" not in text
    pressed = effie.post(f"/spares/left-over/{sharing.left}", follow_redirects=True)
    assert "It is no longer to be had." in pressed.text
    cuthbert = Visitor(here, sharing.ring["Cuthbert"])
    assert "I would like one" in as_read(cuthbert.get("/spares/left-over").text)


def test_a_sender_answers_on_the_claims_page_and_the_organiser_sees_it(here, sharing, organiser):
    sharing.all_of_it()
    (one,) = sharing.given()
    text = as_read(organiser.get("/claims").text)
    assert "What you are asked to send" in text
    organiser.post(f"/claims/send/{one.id}/yes")
    assert "What you are asked to send" not in as_read(organiser.get("/claims").text)
    page = as_read(organiser.get(f"/share-out/{sharing.share_out_id}").text)
    assert "All have been answered." in page


def test_a_quiet_no_names_nobody_and_stands_on_the_page(here, sharing, organiser):
    sharing.all_of_it()
    (one,) = sharing.given()
    organiser.post(f"/claims/send/{one.id}/no")
    page = as_read(organiser.get(f"/share-out/{sharing.share_out_id}").text)
    assert "the sender cannot send them after all" in page
    told = as_read(Visitor(here, sharing.ring["Cuthbert"]).get(f"/claims/{sharing.met}/why").text)
    assert "Winnie" not in told


def test_another_member_cannot_answer_for_the_sender(here, sharing):
    sharing.all_of_it()
    (one,) = sharing.given()
    effie = Visitor(here, sharing.ring["Effie"])
    assert effie.post(f"/claims/send/{one.id}/no").status_code == 403
    assert sharing.given() == [one]


def test_a_small_circle_needs_two_presses_and_sees_no_ceremony(here, sharing, organiser):
    sharing.about(8)
    first = organiser.post("/share-out/today")
    page = first.headers["Location"]
    text = organiser.get(page).text
    assert "Confirm the share-out" in text
    assert "Given and received" not in text
    assert "What other terms would change" not in text
    draw = text.index("The draw number")
    assert text.rindex("<details", 0, draw) > text.rindex("</details>", 0, draw)
    organiser.post(f"{page}/confirm")
    assert sharing.standing() == {sharing.met: 1}


def test_nothing_listed_is_said_on_the_page(here):
    empty = a_sharing(here.house)
    organiser = Visitor(here, empty.ring["Winnie"])
    empty.open()
    empty.work_out()
    text = as_read(organiser.get(f"/share-out/{empty.share_out_id}").text)
    assert "Nobody has listed a spare, so there is nothing to share out." in text


def test_the_rules_stand_as_a_numbered_list(sharing, organiser):
    sharing.open()
    sharing.work_out()
    text = organiser.get(f"/share-out/{sharing.share_out_id}").text
    sheet = (Path(web.__file__).parent / "static" / "look" / "base.css").read_text()
    assert re.search(r"<ol>\s*<li>What must not be lost", text)
    assert re.search(r"ol:not\(\[class\]\)[^}]*list-style: decimal", sheet)
