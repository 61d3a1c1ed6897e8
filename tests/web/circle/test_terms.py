"""The circle's terms, its ways of sending and its days without post, on pages."""

from datetime import date

import pytest

from exchange.actions.kernel.terms import posting_terms, sharing_terms
from exchange.actions.kernel.terms_table import TERMS, term, value_of
from exchange.domain.growing.batch import Material
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.way import Carriage
from exchange.records import CLOSURES, DEEDS, ROUTE_POINTS, TASKS, WAYS, circles
from exchange.records.rows.running import TaskState
from exchange.words.circle import terms as words
from tests.app_fixtures import Visitor


@pytest.fixture
def organiser(here, circle):
    return Visitor(here, circle["Winnie"])


def the_circle(here, circle):
    with here.house.books.reading() as tx:
        return circles.get(tx, circle.circle_id)


def rows(here, circle, repository, **where):
    with here.house.books.reading() as tx:
        return repository.all(tx, circle.circle_id, **where)


def test_every_term_has_a_page_that_keeps_the_value_it_shows(here, circle, organiser):
    for one in TERMS:
        text = organiser.get(f"/circle/terms/{one.key}").text
        usual = PostingTerms() if one.part == "posting" else sharing_terms(the_circle(here, circle))
        said = words.said(one.how, value_of(one, usual))
        assert f"Now: {said}. Usual: {said}." in text


def test_a_changed_term_is_marked_logged_and_used_by_the_plan(here, circle, organiser):
    organiser.post("/circle/terms/loss_limit", {"value": "2.5"})
    known = the_circle(here, circle)
    assert posting_terms(known).loss_limit == pytest.approx(1 / 40)
    text = organiser.get("/circle/terms").text
    assert "changed</span></span>; usual: 5\xa0in\xa0100" in text
    assert "1 term is changed." in text.replace("\xa0", " ")
    assert any("2.5\xa0in\xa0100" in one.what for one in rows(here, circle, DEEDS))
    assert rows(here, circle, TASKS, kind="plan", state=TaskState.WAITING)


def test_reset_leaves_nothing_behind(here, circle, organiser):
    organiser.post("/circle/terms/most_contested", {"value": "5"})
    assert sharing_terms(the_circle(here, circle)).most_contested == 5
    organiser.post("/circle/terms/most_contested/reset")
    assert the_circle(here, circle).terms["sharing"] == {}


def test_weekdays_are_kept_for_all_materials_of_the_row(here, circle, organiser):
    organiser.post("/circle/terms/green_quick", {"value": ["0", "3"]})
    days = posting_terms(the_circle(here, circle)).posting_days
    assert days[Material.ROOTED].quick == days[Material.YOUNG_PLANT].quick == frozenset({0, 3})
    assert days[Material.ROOTED].slow == frozenset({0})
    assert days[Material.UNROOTED].quick == frozenset({0, 1})


def test_the_closed_season_is_asked_as_day_and_month(here, circle, organiser):
    organiser.post("/circle/terms/closed_until", {"day": "29", "month": "2"})
    assert posting_terms(the_circle(here, circle)).closed_until == (2, 29)
    refused = organiser.post("/circle/terms/closed_until", {"day": "31", "month": "4"})
    assert refused.status_code == 422
    assert "There is no such day in that month." in refused.text


@pytest.mark.parametrize("wrong", ["0", "-1", "1000000000", "two", ""])
def test_numbers_that_cannot_be_come_back_with_a_sentence(here, circle, organiser, wrong):
    refused = organiser.post("/circle/terms/most_contested", {"value": wrong})
    assert refused.status_code == 422
    assert "Write a whole number" in refused.text
    assert the_circle(here, circle).terms == {}


@pytest.mark.parametrize("wrong", ["0", "-5", "51", "much", ""])
def test_a_chance_that_cannot_be_comes_back_with_a_sentence(here, circle, organiser, wrong):
    refused = organiser.post("/circle/terms/loss_limit", {"value": wrong})
    assert refused.status_code == 422
    assert "Write a number" in refused.text
    assert the_circle(here, circle).terms == {}


def test_a_chance_settled_in_the_older_form_stands_and_reads_in_100(here, circle, organiser):
    """1 in 30 is not a round figure in 100; looking at it, and keeping what is shown, changes nothing."""
    with here.house.books.writing() as tx:
        circles.change(tx, circle.circle_id, terms={"posting": {"loss_limit": 1 / 30}})

    text = organiser.get("/circle/terms/loss_limit").text
    assert "Now: 3.33\xa0in\xa0100. Usual: 5\xa0in\xa0100." in text
    assert "How many in 100?" in text
    organiser.post("/circle/terms/loss_limit", {"value": "3.33"})

    assert posting_terms(the_circle(here, circle)).loss_limit == 1 / 30


def test_no_term_is_said_as_1_in_so_many(organiser):
    assert "1\xa0in\xa0" not in organiser.get("/circle/terms").text


def test_no_target_means_each_varietys_own(here, circle, organiser):
    organiser.post("/circle/terms/target_places", {"value": "6"})
    assert sharing_terms(the_circle(here, circle)).target_places == 6
    organiser.post("/circle/terms/target_places", {"value": ""})
    assert sharing_terms(the_circle(here, circle)).target_places is None


def test_an_unreadable_note_never_stops_a_plan(here, circle):
    spoilt = {
        "posting": {
            "loss_limit": "much",
            "closed_from": [1],
            "posting_days": {"rooted": 3},
            "x": 1,
        },
        "sharing": "nonsense",
    }
    with here.house.books.writing() as tx:
        circles.change(tx, circle.circle_id, terms=spoilt)
    known = the_circle(here, circle)
    assert posting_terms(known) == PostingTerms()
    assert sharing_terms(known).most_contested == 2


def test_members_do_not_see_or_change_terms(here, circle):
    member = Visitor(here, circle["Effie"])
    for path in ("/circle/terms", "/circle/terms/shift", "/circle/ways", "/circle/closures"):
        assert member.get(path).status_code == 403
    member.post("/circle/terms/most_contested", {"value": "9"})
    assert the_circle(here, circle).terms == {}


def test_an_unknown_term_is_not_there(organiser):
    assert organiser.get("/circle/terms/node_limit").status_code == 404


def test_terms_are_looked_up_by_their_key():
    assert term("shift").part == "sharing"


WAY = {
    "used": "y",
    "cut_off_hour": "15",
    "hand_over_weekdays": ["0", "1"],
    "delivery_weekdays": ["0", "1", "2", "3", "4"],
}
NEW = {
    **WAY,
    "name": "Night mail",
    "country": "GB",
    "quick": "y",
    "next_day": "90",
    "second_day": "8",
    "third_day": "2",
    "later": "0",
    "postage": "499",
}


def test_ways_are_listed_with_odds_in_a_hundred_and_their_source(organiser):
    text = organiser.get("/circle/ways").text
    assert "next day\xa078" in text  # 77.5 % in the regulator's results, as seeded
    assert "Ofcom" in text
    assert "By hand" in text


def test_postage_is_typed_in_whole_pence(here, circle, organiser):
    organiser.get("/circle/ways")
    way = rows(here, circle, WAYS, name="First class")[0]
    organiser.post(f"/circle/ways/{way.id}", {**WAY, "postage": "349"})
    kept = rows(here, circle, WAYS, name="First class")[0]
    assert (kept.postage, kept.cut_off_hour, kept.hand_over_weekdays) == (349, 15.0, {0, 1})
    assert "£3.49" in organiser.get("/circle/ways").text
    assert organiser.post(f"/circle/ways/{way.id}", {**WAY, "postage": "-1"}).status_code == 422


def test_by_hand_is_always_there(here, circle, organiser):
    organiser.get("/circle/ways")
    by_hand = rows(here, circle, WAYS, carriage=Carriage.BY_HAND)[0]
    refused = organiser.post(f"/circle/ways/{by_hand.id}", {**WAY, "used": ""})
    assert refused.status_code == 422
    assert rows(here, circle, WAYS, carriage=Carriage.BY_HAND)[0].used


def test_a_way_of_ones_own_counts_as_ten_parcels(here, circle, organiser):
    assert organiser.post("/circle/ways/new", NEW).status_code == 303
    way = rows(here, circle, WAYS, name="Night mail")[0]
    assert way.odds == pytest.approx((9.0, 0.8, 0.2, 0.0))
    assert way.quick
    again = organiser.post("/circle/ways/new", {**NEW, "name": "night MAIL"})
    assert again.status_code == 422


@pytest.mark.parametrize(
    "wrong",
    [
        {"later": "1"},
        {"next_day": "-10", "second_day": "108"},
        {"hand_over_weekdays": []},
        {"cut_off_hour": "24"},
        {"country": "FR"},
    ],
)
def test_a_way_that_cannot_be_is_refused(here, circle, organiser, wrong):
    assert organiser.post("/circle/ways/new", {**NEW, **wrong}).status_code == 422
    assert not rows(here, circle, WAYS, name="Night mail")


def test_holidays_stand_under_their_part_of_the_country(organiser):
    text = organiser.get("/circle/closures").text
    # gov.uk/bank-holidays: Easter Monday 2027 is no holiday in Scotland; St Andrew's Day is one there only.
    england, scotland = text.index("England"), text.index("Scotland")
    assert england < scotland
    assert text.count("Easter Monday") == 0 or text.index("Easter Monday") < scotland
    assert text.index("St Andrew") > scotland


def test_a_day_added_is_without_post_and_can_be_taken_back(here, circle, organiser):
    sent = {"day": "2027-04-14", "area": "GB-SCT", "label": "ferry does not sail"}
    assert organiser.post("/circle/closures", sent).status_code == 303
    assert "ferry does not sail" in organiser.get("/circle/closures").text
    assert organiser.post("/circle/closures", sent).status_code == 422
    entry = rows(here, circle, CLOSURES)[0]
    organiser.post(f"/circle/closures/{entry.id}/take-back")
    assert not rows(here, circle, CLOSURES)


def test_a_holiday_can_be_opened(here, circle, organiser):
    organiser.post("/circle/closures/open", {"day": "2027-05-03", "area": "GB-ENG"})
    entry = rows(here, circle, CLOSURES)[0]
    assert (entry.day, entry.opened) == (date(2027, 5, 3), True)
    organiser.post("/circle/closures/open", {"day": "2027-05-04", "area": "GB-ENG"})
    assert len(rows(here, circle, CLOSURES)) == 1


@pytest.mark.parametrize("day", ["2027-04-04", "2040-01-01", ""])
def test_a_day_that_cannot_be_is_refused(here, circle, organiser, day):
    sent = {"day": day, "area": "GB-SCT", "label": "no"}
    assert organiser.post("/circle/closures", sent).status_code == 422
    assert not rows(here, circle, CLOSURES)


def test_a_way_goes_through_a_town_and_no_longer(here, circle, organiser):
    organiser.get("/circle/ways")
    way = rows(here, circle, WAYS, name="First class")[0]
    page = f"/circle/ways/{way.id}/through"
    assert "Goes through" in organiser.get("/circle/ways").text

    several = organiser.post(page, {"town": "Newport"})
    assert several.status_code == 422
    assert "Newport, Essex" in several.text
    assert "Newport, Isle of Wight" in several.text
    assert organiser.post(page, {"town": "Nowhere at all"}).status_code == 422
    assert organiser.post(page, {"town": ""}).status_code == 422
    assert organiser.post(page, {"town": "Newport", "chosen": "51.984,0.213"}).status_code == 303

    text = organiser.get("/circle/ways").text
    assert "Newport, Essex</a>" in text
    assert "usual for the time of year" in text
    assert "Newport, Essex" in organiser.get(page).text
    assert any("goes through Newport, Essex" in one.what for one in rows(here, circle, DEEDS))

    assert organiser.post(f"{page}/remove").status_code == 303
    assert "Newport, Essex" not in organiser.get("/circle/ways").text
    assert rows(here, circle, ROUTE_POINTS) == ()


def test_by_hand_goes_through_no_town(here, circle, organiser):
    organiser.get("/circle/ways")
    by_hand = rows(here, circle, WAYS, carriage=Carriage.BY_HAND)[0]
    refused = organiser.post(f"/circle/ways/{by_hand.id}/through", {"town": "Shap"})
    assert refused.status_code == 422
    assert "lies in no depot" in refused.text
