"""The strip of a parcel's page is drawn from the plan and the nights it was planned by."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.posting.page_parcel import parcel_page
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.reasons import WEIGHED_WORDS, DayNote, DayWord
from exchange.domain.posting.strip import StripDay
from exchange.web.posting.chart_strip import DayState, ShutRun
from exchange.web.posting.posting_strip import asked_day, strip_of
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting.parcels import chance_in_cell, chance_spoken, day_word, safer_but
from tests.app_fixtures import NOW, Visitor
from tests.builders.season import MONDAY, tell_weather

WEDNESDAY = MONDAY + timedelta(days=2)


@pytest.fixture
def here(both):
    return both[0]


def drawn(here, season, asked=None, name="Winnie"):
    parcel = season.parcel_to("Effie")
    page = parcel_page(season.ring.actor(name), parcel.id, NOW, fresh=True)
    with here.app.test_request_context():
        return page, strip_of(page, asked)


def cells(view):
    items = [item for week in view.weeks for item in week.items]
    return [item for item in items if not isinstance(item, ShutRun)]


def test_three_weeks_of_days_as_planned(here, season):
    page, view = drawn(here, season)
    assert [len(week.shut) for week in view.weeks] == [7, 7, 7]
    open_days = [
        one.day for one in page.plan.strip if one.loss is not None and one.word in WEIGHED_WORDS
    ]
    assert [cell.day.day for cell in cells(view)] == open_days
    assert len(open_days) < 21
    chosen = [cell.day for cell in cells(view) if cell.day.state is DayState.CHOSEN]
    assert [one.day for one in chosen] == [MONDAY]
    assert chosen[0].word == "post"


def test_the_low_of_a_day_is_that_of_the_night_before_it(here, season):
    """A night is named by the evening it begins on; its low comes the next morning."""
    tell_weather(season, NOW + timedelta(minutes=1), frost=(WEDNESDAY - timedelta(days=1),))
    season.plan(NOW + timedelta(minutes=2))
    page, view = drawn(here, season)
    outlook = page.sender.outlook
    expected = [outlook.night(one.day - timedelta(days=1)).mean_c for one in page.plan.strip]
    coldest = expected.index(min(expected))
    assert page.plan.strip[coldest].day == WEDNESDAY
    places = {cell.day.day: cell.sender_low.at for cell in cells(view)}
    assert min(places, key=places.get) == page.plan.strip[coldest].day


def test_both_ends_are_drawn_and_only_ones_own_garden_is_named(here, season):
    season.plan()
    for name, sender, receiver in (
        ("Winnie", "From: your garden", "To: Highland"),
        ("Effie", "From: Shropshire", "To: your garden"),
    ):
        _page, view = drawn(here, season, name=name)
        assert [panel.name for panel in view.weeks[0].panels] == [sender, receiver]


def test_the_posting_day_and_the_others_are_judged_by_one_rule(here, season):
    """A day called good is about as good as the posting day, and any other is worse by more."""
    _page, view = drawn(here, season)
    chosen = next(cell.day for cell in cells(view) if cell.day.state is DayState.CHOSEN)
    good = [cell.day.loss for cell in cells(view) if cell.day.word == "good"]
    worse = [cell.day.loss for cell in cells(view) if cell.day.word not in ("post", "good")]
    assert good
    assert all(loss < chosen.loss + PostingTerms().announced_gain for loss in good)
    assert all(loss >= chosen.loss + PostingTerms().announced_gain for loss in worse)
    assert all(cell.depth > 0 for cell in cells(view))


def test_where_it_may_never_go_no_strip_is_drawn(here, season):
    page, _view = drawn(here, season)
    shut = replace(
        page.plan, strip=tuple(replace(one, word=DayWord.NOT_READY) for one in page.plan.strip)
    )
    assert strip_of(replace(page, plan=shut), None) is None


def test_to_the_receiver_here_is_where_it_comes():
    day = StripDay(MONDAY, DayWord.FROST_THERE)
    assert [day_word(day, side=side) for side in ("sender", "neither", "receiver")] == [
        "frost there",
        "frost there",
        "frost here",
    ]


def test_the_day_asked_about_stands_beside_the_chosen_one(here, season):
    asked = MONDAY + timedelta(days=1)
    page, view = drawn(here, season, asked)
    assert [cell.day.day for cell in cells(view) if cell.day.is_asked] == [asked]
    answer = asked_day(page, asked)
    assert answer.chosen.day == MONDAY
    assert [len(row) for row in answer.rows] == [3] * 4
    assert answer.rows[0][1].endswith(f"in{NBSP}100")
    assert asked_day(page, MONDAY - timedelta(days=9)) is None


def test_today_is_safer_but_a_day_is_told_by_the_evening_before(here, season):
    page, _view = drawn(here, season)
    today = page.today
    strip = tuple(
        replace(one, word=DayWord.GOOD, loss=0.001) if one.day == today else replace(one, loss=0.01)
        for one in page.plan.strip
    )
    entry = replace(page.entry, posting_day=WEDNESDAY)
    about = replace(page, entry=entry, plan=replace(page.plan, strip=strip, announced=False))

    assert asked_day(about, today).sentences[-1].endswith("is told by the evening before.")
    told = replace(about, plan=replace(about.plan, announced=True))
    assert asked_day(told, today).sentences[-1].endswith("was told already.")


@pytest.mark.parametrize(
    ("ahead", "told", "end"),
    [
        (0, False, "told by the evening before."),
        (1, False, "but other parcels go that day."),
        (1, True, "was told already."),
        (5, False, "waiting costs more than that."),
    ],
)
def test_why_a_safer_day_is_not_taken(ahead, told, end):
    found, chosen = MONDAY + timedelta(days=ahead), MONDAY + timedelta(days=2)

    assert safer_but(found, chosen, DayNote.NONE, told=told, today=MONDAY).endswith(end)


def test_an_announced_day_that_no_longer_stands_stays_marked_and_is_explained(here, season):
    later = NOW + timedelta(minutes=5)
    tell_weather(season, later, frost=(MONDAY, MONDAY + timedelta(days=1), WEDNESDAY))
    season.plan(later)
    _page, view = drawn(here, season)
    announced = [cell.day.day for cell in cells(view) if cell.day.state is DayState.ANNOUNCED]
    assert announced == [MONDAY]
    parcel = season.parcel_to("Effie")
    text = Visitor(here, season.ring["Winnie"]).get(f"/parcels/{parcel.id}").text
    assert "Moved from" in text or "No longer on" in text


@pytest.mark.parametrize(
    ("loss", "cell", "spoken"),
    [
        (None, ("", ""), ""),
        (0.0, ("fewer than 1", "in 100"), "fewer than 1 in 100 would be lost"),
        (0.05, ("5", "in 100"), "5 in 100 would be lost"),
        (0.9, ("90", "in 100"), "90 in 100 would be lost"),
        (1.0, ("over 99", "in 100"), "over 99 in 100 would be lost"),
    ],
)
def test_chances_in_cells(loss, cell, spoken):
    assert (chance_in_cell(loss), chance_spoken(loss).replace(NBSP, " ")) == (cell, spoken)
