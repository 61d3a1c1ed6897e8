"""The share-out before it is confirmed, on pages: its main button, what confirming does, changing and cancelling."""

import re
from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import clock_actor
from exchange.actions.kernel.links import Purpose
from exchange.actions.sharing.old_claims import look_at_old_claims
from exchange.domain.sharing.states import ShareOutState
from tests.app_fixtures import NOW, Visitor, link_for, site
from tests.builders.shared import a_sharing
from tests.web.sharing.test_share_out import as_read

LATER = NOW.date() + timedelta(days=10)


@pytest.fixture
def here(tmp_path):
    with site(tmp_path) as made:
        yield made


@pytest.fixture
def sharing(here):
    made = a_sharing(here.house)
    made.spare = made.offer("Winnie", made.name(), send_by=NOW.date() + timedelta(days=5))
    made.wish = made.ask("Cuthbert", made.spare_row(made.spare).variety_id)
    made.open()
    made.work_out()
    return made


@pytest.fixture
def organiser(here, sharing):
    return Visitor(here, sharing.ring["Winnie"])


def address(sharing, *parts):
    return "/".join(("/share-out", str(sharing.share_out_id), *parts))


def main_button(text):
    """Give the words of the page's one filled button."""
    main = text[text.index("<main") : text.index("</main")]
    (found,) = re.findall(r'class="press"[^>]*>(.*?)</(?:a|button)>', main, re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", found).split())


def changed(sharing, organiser, name="Late spring", day=LATER):
    form = organiser.get(address(sharing, "change")).text
    version = re.search(r'name="version"[^>]*value="([^"]+)"', form).group(1)
    fields = {"name": name, "closes_on": day.isoformat(), "version": version}
    return organiser.post(address(sharing, "change"), fields)


def test_confirming_is_the_main_thing_from_the_closing_day_only(sharing, organiser):
    assert main_button(organiser.get(address(sharing)).text) == "Confirm the share-out"

    changed(sharing, organiser)
    sharing.work_out()
    text = organiser.get(address(sharing)).text

    assert main_button(text) == "Work it out again"
    assert "Confirm before closing day" in as_read(text)


def test_confirming_shows_what_will_happen_and_asks_once(sharing, organiser):
    asked = as_read(organiser.get(address(sharing, "confirm")).text)
    assert sharing.row().state is ShareOutState.WORKED_OUT
    assert "1 plant is given, from 1 household to 1." in asked
    assert "1 of 1 claim is met in full." in asked
    assert "2 letters go out, for you to hand over." in asked

    done = organiser.post(address(sharing, "confirm"), follow_redirects=True)

    assert "1 plant is given; 1 claim is met in full. Everybody it touches is told." in as_read(
        done.text
    )
    assert sharing.standing() == {sharing.wish: 1}
    gone = organiser.get(address(sharing, "confirm"), follow_redirects=True)
    assert "This share-out is confirmed; it does not change any more." in gone.text


def test_confirming_early_says_that_claims_can_still_be_made(sharing, organiser):
    changed(sharing, organiser)
    sharing.work_out()

    asked = as_read(organiser.get(address(sharing, "confirm")).text)

    assert "Claims can still be made until Thu 15 April 2027." in asked


def test_the_closing_day_stands_with_its_year_and_warns_of_what_cannot_wait_for_it(
    sharing, organiser
):
    changed(sharing, organiser)

    text = as_read(organiser.get(address(sharing), follow_redirects=True).text)

    assert "It closes on Thu 15 April 2027." in text
    assert "1 spare has to be sent before the closing day, so it cannot give it." in text
    member = Visitor(organiser.here, sharing.ring["Effie"])
    assert "Thu 15 April 2027" in as_read(member.get("/claims").text)


def test_a_year_mistyped_is_refused_beside_the_field(sharing, organiser):
    refused = changed(sharing, organiser, day=LATER.replace(year=2072))

    assert refused.status_code == 422
    assert "Give a closing day within a year from now." in refused.text


def test_it_is_cancelled_at_a_press_and_undone_by_another(sharing, organiser):
    organiser.post(address(sharing, "cancel"))
    listed = organiser.get("/share-out").text
    assert "cancelled" in as_read(listed)
    assert address(sharing, "put-back") in listed
    shown = as_read(organiser.get(address(sharing)).text)
    assert "Cancelled. Spares and claims wait for the next share-out." in shown
    assert "Change or cancel it" not in shown

    organiser.post(address(sharing, "put-back"))

    assert sharing.row().state is ShareOutState.WORKED_OUT
    assert main_button(organiser.get(address(sharing)).text) == "Confirm the share-out"


def test_members_are_not_let_in(here, sharing):
    effie = Visitor(here, sharing.ring["Effie"])

    assert effie.get(address(sharing, "change")).status_code == 403
    assert effie.get(address(sharing, "confirm")).status_code == 403
    for act in ("change", "cancel", "put-back", "confirm"):
        fields = {"name": "Mine", "closes_on": LATER.isoformat()}
        assert effie.post(address(sharing, act), fields).status_code == 403


def test_your_claim_is_said_to_its_owner_only(here, sharing, organiser):
    other = sharing.ask("Effie", sharing.name("Tin Kettle"))
    sharing.work_out()
    sharing.confirm()
    page = f"/claims/{other}/why"

    assert "Effie’s claim for 1 plant stays open" in as_read(organiser.get(page).text)
    own = as_read(Visitor(here, sharing.ring["Effie"]).get(page).text)
    assert "Your claim for 1 plant stays open" in own


def test_parcels_of_one_plant_stand_before_confirming_with_what_leaving_them_out_loses(
    sharing, organiser
):
    text = as_read(organiser.get(address(sharing)).text)
    assert "Parcels of one plant" in text
    assert "somebody’s first choice" in text

    sharing.confirm()

    assert "Parcels of one plant" not in as_read(organiser.get(address(sharing)).text)


def test_an_old_claim_asks_whether_it_still_stands_and_one_press_says_so(here, sharing):
    other = sharing.ask("Effie", sharing.name("Tin Kettle"))
    here.clock.at = NOW + timedelta(days=300)
    effie = Visitor(here, sharing.ring["Effie"])
    assert "Say whether you still want what you asked for" in as_read(effie.get("/todo").text)
    page = effie.get("/claims").text
    assert "still wanted?" in page
    assert "It was asked for on Mon 5 April 2027." in as_read(page)

    effie.post(f"/claims/{other}/still-wanted")

    assert "still wanted?" not in effie.get("/claims").text
    assert sharing.claim_row(other).wanted_at == here.clock.at


def test_a_lapsed_claim_is_shown_as_that_and_the_letters_link_revives_it(here, sharing):
    wish = sharing.ask("Effie", sharing.name("Tin Kettle"))
    sharing.work_out()
    sharing.confirm()
    clock = clock_actor(here.house, sharing.circle_id)
    look_at_old_claims(clock, NOW + timedelta(days=271))
    here.clock.at = NOW + timedelta(days=301)
    look_at_old_claims(clock, here.clock.at)
    effie = Visitor(here, sharing.ring["Effie"])
    assert "It no longer counts." in as_read(effie.get("/claims").text)
    path = link_for(here, sharing.ring["Effie"], Purpose.STILL_WANTED)

    asked = as_read(Visitor(here).get(path).text)
    thanks = as_read(Visitor(here).post(path).text)

    assert "1 of Dahlia ‘Tin Kettle’, asked for on Mon 5 April 2027 (lapsed)" in asked
    assert "1 claim still stands." in thanks
    assert Visitor(here).get(path).status_code == 410
    assert sharing.claim_row(wish).withdrawn_at is None
    assert "It no longer counts." not in as_read(effie.get("/claims").text)
