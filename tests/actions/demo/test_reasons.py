"""The demo's reasons for its posting days, read beside its plan and its forecast file."""

import json
import re
from collections import Counter, defaultdict
from datetime import date, timedelta

import pytest

from exchange.actions.circle.season_file import season_file
from exchange.actions.posting.page_parcel import parcel_page
from exchange.actions.posting.parcels import plan_of
from exchange.domain.posting.parcel import ParcelState
from exchange.paths import DEMO_DATA
from exchange.records import PARCELS, PLACES
from exchange.web.posting.posting_strip import strip_of
from exchange.words.kernel.chances import in_hundred
from tests.builders.demo import demo_site

MOST_WORDS = 20
NEAR_K = 1.5
"""A low we name is the file's drawn a little toward what is usual, and moved to the place's height."""
STATES = {"not ready", "waits for weather", "no way", "planned"}


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    with demo_site(tmp_path_factory.mktemp("reasons")) as made:
        yield made


@pytest.fixture(scope="module")
def parcels(built):
    here, demo = built
    return season_file(demo.settled.organiser, here.clock.at)["parcels"]


@pytest.fixture(scope="module")
def entries(built):
    here, demo = built
    with here.house.books.reading() as tx:
        return PARCELS.all(tx, demo.settled.circle_id)


@pytest.fixture(scope="module")
def lows():
    """Give the lowest of each night in the forecast file: (latitude, longitude) -> day it begins -> degrees."""
    found = {}
    for place in json.loads((DEMO_DATA / "forecast.json").read_text()):
        nights = defaultdict(list)
        for time, value in zip(
            place["hourly"]["time"], place["hourly"]["temperature_2m"], strict=True
        ):
            if value is not None:
                day, hour = date.fromisoformat(time[:10]), int(time[11:13])
                nights[day if hour >= 12 else day - timedelta(days=1)].append(value)
        found[place["latitude"], place["longitude"]] = {
            day: min(one) for day, one in nights.items()
        }
    return found


def plain(text):
    return text.replace("\u00a0", " ")


def test_a_reason_is_at_most_twenty_words(parcels):
    long = [one for parcel in parcels for one in parcel["reasons"] if len(one.split()) > MOST_WORDS]
    assert long == []
    assert sum(len(parcel["reasons"]) for parcel in parcels) > 70


def test_planned_not_ready_and_waiting_are_counted_apart(parcels):
    counts = Counter(parcel["state"] for parcel in parcels)
    assert set(counts) <= STATES
    assert counts["planned"] == sum(parcel["posting_day"] is not None for parcel in parcels)
    for parcel in parcels:
        if parcel["state"] == "not ready":
            assert any("ready on" in one for one in parcel["reasons"])
        if parcel["state"] == "waits for weather":
            assert any("good enough" in one for one in parcel["reasons"])
    assert min(counts["planned"], counts["not ready"], counts["waits for weather"]) > 0


def test_every_chance_in_a_reason_is_that_of_a_day_of_its_plan(entries):
    """A spell names its range: both ends of it are figures of days in it."""
    checked = 0
    for entry in entries:
        plan = plan_of(entry)
        known = {plain(in_hundred(one.loss)) for one in plan.strip if one.loss is not None}
        figures = {text.removesuffix(" in 100").removeprefix("fewer than ") for text in known}
        for reason in map(plain, entry.reasons):
            for said in re.findall(
                r"(?:(over \d+|\d+) to )?(?:fewer than |up to )?(over \d+|\d+) in 100", reason
            ):
                assert set(filter(None, said)) <= figures, (entry.code, reason)
                checked += 1
    assert checked > 70


def test_every_day_in_a_weather_reason_has_its_night_in_the_forecast_file_or_is_said_to_be_usual(
    entries, lows
):
    told = {day for of_place in lows.values() for day in of_place}
    for entry in entries:
        plan = plan_of(entry)
        weather = [one for one in plan.reasons if one.number is not None and one.first is not None]
        for one in weather:
            beyond = one.first > max(told)
            assert not beyond or entry.weather_source.value in ("climate", "both"), entry.code


def test_every_degree_in_words_is_found_in_the_forecast_file(built, entries, lows):
    """ "Down to −4 °C in Powys" is the file's coldest hour at that place in the nights that are named."""
    here, demo = built
    checked = 0
    with here.house.books.reading() as tx:
        places = PLACES.by_id(tx, demo.settled.circle_id)
    for entry in entries:
        if entry.state not in (ParcelState.PLANNED, ParcelState.ANNOUNCED):
            continue
        page = parcel_page(demo.settled.organiser, entry.id, here.clock.at, fresh=True)
        with here.app.test_request_context():
            view = strip_of(page, None)
        if view is None:
            continue
        for end in (places[entry.sender_place_id], places[entry.receiver_place_id]):
            of_file = min(
                lows, key=lambda at: abs(at[0] - end.latitude) + abs(at[1] - end.longitude)
            )
            down = re.search(rf"(−?\d+) °C in {end.county}", plain(view.in_words))
            if down:
                said = int(down.group(1).replace("−", "-"))
                coldest = min(
                    low for day, low in lows[of_file].items() if day >= here.clock.at.date()
                )
                assert abs(said - coldest) <= NEAR_K, (entry.code, view.in_words, coldest)
                checked += 1
    assert checked > 25
