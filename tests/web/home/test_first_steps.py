"""The first steps on the first page, and the shelters ticked there."""

from exchange.actions.home.first_steps import FirstSteps, Step
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import PLACES, SHELTERS
from exchange.web.home.first_steps import view_of
from tests.app_fixtures import NOW, a_day
from tests.builders.offers import rows


def steps(*done, of_circle=True):
    kinds = list(Step)[:3] if of_circle else list(Step)[3:]
    return FirstSteps(of_circle, tuple(zip(kinds, done, strict=True)), people=4, placed=True)


def test_one_filled_button_stands_at_the_first_step_not_done(winnie):
    page = winnie.get("/todo").text

    assert page.count('class="press"') == 1
    assert "Three steps bring the circle to its first share-out." in page
    assert "1 of 3 steps done." in page


def test_the_steps_are_gone_once_a_share_out_is_open_and_the_own_ones_follow(circle, winnie):
    open_share_out(circle.actor("Winnie"), NewShareOut("Spring", a_day(11), "a number"), NOW)

    page = winnie.get("/todo").text

    assert "List the first spares" not in page
    assert "Where can plants stand with you?" in page


def test_ticked_shelters_are_kept_and_the_step_is_done(circle, effie):
    answer = effie.post("/first-steps/shelters", {"shelter": ["cold", "indoors"]})

    page = effie.get(answer.location).text
    kinds = {one.kind for one in rows(circle, SHELTERS)}
    assert kinds == {ShelterKind.COLD, ShelterKind.INDOORS}
    assert "Indoors and cold greenhouse or frame." in page
    assert 'name="shelter"' not in page


def test_no_tick_or_a_strange_one_is_said_and_nothing_kept(circle, effie):
    for told in ([], ["castle"]):
        answer = effie.post("/first-steps/shelters", {"shelter": told})
        assert "open ground is one too" in effie.get(answer.location).text

    assert rows(circle, SHELTERS) == ()


def test_without_a_place_the_town_is_asked_first(here, circle, effie):
    with here.house.books.writing() as tx:
        PLACES.remove(tx, circle.circle_id, circle.place("Effie").id)

    page = effie.get("/todo").text

    assert "Say where you grow first" in page
    assert 'name="shelter"' not in page


def test_a_done_step_is_one_line_and_can_be_changed():
    people, spares, share_out = view_of(steps(True, False, False)).lines

    assert (people.done, people.button, people.url) == (True, "Change it", "/circle")
    assert people.why == "4\u00a0members so far."
    assert [spares.current, share_out.current] == [True, False]


def test_every_step_has_its_page_and_its_words():
    for of_circle in (True, False):
        begun = view_of(steps(False, False, False, of_circle=of_circle))
        well_on = view_of(steps(True, True, False, of_circle=of_circle))
        assert all(one.why and one.url.startswith("/") for one in begun.lines)
        assert [one.done for one in well_on.lines] == [True, True, False]
