"""The page on which a parcel is posted against the plan's advice."""

import re
from datetime import timedelta

import pytest

from exchange.actions.posting.parcels import plan_of
from exchange.domain.posting.reasons import WEATHER_WORDS
from exchange.records import circles
from exchange.words.kernel import dates
from tests.app_fixtures import NOW, Visitor
from tests.builders.season import MONDAY, again, tell_weather

TUESDAY = MONDAY + timedelta(days=1)
LATER = NOW + timedelta(minutes=5)
KNOW = "Post anyway, I know"


@pytest.fixture
def here(both):
    return both[0]


@pytest.fixture
def frosty(season):
    tell_weather(season, NOW, frost=(TUESDAY, TUESDAY + timedelta(days=1)))
    season.plan(LATER)
    parcel = season.parcel_to("Effie")
    day = next(
        one.day
        for one in plan_of(parcel).strip
        if one.word in WEATHER_WORDS and one.loss > 0.05 and one.day != parcel.posting_day
    )
    return parcel, day


def day_words(day):
    return dates.day(day).replace("\u00a0", " ")


def words(answer):
    return " ".join(re.sub(r"<[^>]+>", " ", answer.text).replace("\u00a0", " ").split())


def test_the_day_asked_about_leads_to_it_and_the_page_says_what_it_costs(here, season, frosty):
    parcel, day = frosty
    sender = Visitor(here, season.ring["Winnie"])
    asked = sender.get(f"/parcels/{parcel.id}?day={day}").text
    link = re.search(rf'href="(/parcels/{parcel.id}/anyway\?day={day})"', asked)
    page = sender.get(link.group(1))
    assert "in 100 such parcels come to harm. The plan advises against it." in words(page)
    assert page.text.count(KNOW) == 1
    assert again(season, parcel) == parcel


def test_each_day_asked_about_leads_to_the_page_that_takes_it_or_to_none(here, season, frosty):
    parcel, _day = frosty
    sender, ways = Visitor(here, season.ring["Winnie"]), set()
    for one in plan_of(parcel).strip:
        text = sender.get(f"/parcels/{parcel.id}?day={one.day}").text
        led = re.findall(rf'href="(/parcels/{parcel.id}/(\w+)\?day={one.day})"', text)
        ways.add(tuple(way for _, way in led))
        for url, _ in led:
            assert "What changes" in words(sender.get(url)), (one.day, one.word, url)
    assert ways == {(), ("move",), ("anyway",)}


def test_pressed_it_stands_on_the_parcels_page_with_who_and_when(here, season, frosty):
    parcel, day = frosty
    sender = Visitor(here, season.ring["Winnie"])
    answer = sender.post(f"/parcels/{parcel.id}/anyway", {"day": day.isoformat()})
    assert answer.status_code == 303
    assert again(season, parcel).against_advice
    told = words(sender.get(f"/parcels/{parcel.id}"))
    assert "Posted against the plan’s advice" in told
    assert f"Chosen by {season.ring['Winnie'].full_name} on " in told
    slip = words(sender.get(f"/papers/{parcel.id}/slip"))
    assert "Posted against the plan’s advice" in slip


def test_a_day_shut_for_other_reasons_is_refused_beside_the_field(here, season, frosty):
    parcel, _day = frosty
    sunday = MONDAY + timedelta(days=6)
    answer = Visitor(here, season.ring["Winnie"]).post(
        f"/parcels/{parcel.id}/anyway", {"day": sunday.isoformat()}
    )
    assert answer.status_code == 422
    assert "It cannot go that day." in answer.text


def test_the_receiver_is_neither_offered_nor_allowed_it(here, season, frosty):
    parcel, day = frosty
    receiver = Visitor(here, season.ring["Effie"])
    assert KNOW not in receiver.get(f"/parcels/{parcel.id}?day={day}").text
    assert (
        receiver.post(f"/parcels/{parcel.id}/anyway", {"day": day.isoformat()}).status_code == 403
    )


@pytest.fixture
def cold_weeks(season):
    """Frost on every night that can be told, and a circle that waits ten days at most."""
    with season.house.books.writing() as tx:
        circles.change(tx, season.circle_id, terms={"posting": {"longest_wait": 10}})
    tell_weather(season, NOW, frost=tuple(MONDAY + timedelta(days=n) for n in range(16)))
    season.plan(LATER)
    parcel = season.parcel_to("Effie")
    assert plan_of(parcel).offered is not None
    return parcel, plan_of(parcel).offered


@pytest.mark.parametrize("page", ["/parcels/{id}", "/todo"])
def test_the_best_of_bad_days_is_taken_with_one_press(here, season, cold_weeks, page):
    parcel, best = cold_weeks
    sender = Visitor(here, season.ring["Winnie"])
    shown = sender.get(page.format(id=parcel.id))
    assert f"The least risky day soon is {day_words(best.first)}: " in words(shown)
    form = re.search(
        rf'<form action="(/parcels/{parcel.id}/anyway)".*?name="day" value="([^"]+)".*?name="version" '
        r'value="([^"]+)"',
        shown.text,
        re.DOTALL,
    )
    assert form.group(2) == best.first.isoformat()
    answer = sender.post(form.group(1), {"day": form.group(2), "version": form.group(3)})
    assert answer.status_code == 303
    assert again(season, parcel).posting_day == best.first
    assert again(season, parcel).against_advice
    assert f"/parcels/{parcel.id}/anyway" not in sender.get(page.format(id=parcel.id)).text


def test_only_who_may_post_is_offered_the_best_of_bad_days(here, season, cold_weeks):
    parcel, _best = cold_weeks
    receiver = Visitor(here, season.ring["Effie"])
    assert "The least risky day soon" not in words(receiver.get(f"/parcels/{parcel.id}"))
