"""A night of which hours are missing is said once on a page, and only where that night matters."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.domain.weather.nights import night_bounds
from exchange.records import PARCELS, forecasts_kept
from tests.app_fixtures import NOW, Visitor
from tests.builders.season import a_course, again
from tests.web.posting.test_parcel_edits import words

SAID = "Hours are missing from the forecast"


@pytest.fixture
def here(both):
    return both[0]


@pytest.fixture
def parcel(season):
    return again(season, season.parcel_to("Effie"))


def lose_hours(season, name, night):
    """Let the forecast of somebody's place lose three hours of the night that begins on the day."""
    place = season.ring.place(name)
    start, end = night_bounds(night, place.zone)
    whole = a_course(place.id, NOW + timedelta(minutes=1), ())
    kept = [one for one in whole.readings if not start + timedelta(hours=14) <= one.at < end]
    kept += [one for one in whole.readings if end - timedelta(hours=7) <= one.at < end]
    forecast = replace(whole, readings=tuple(sorted(set(kept), key=lambda one: one.at)))
    with season.house.books.writing() as tx:
        forecasts_kept.add(tx, season.circle_id, forecast)


def counts(season, here, parcel, reader="Effie"):
    """Count the sentences on the pages of the parcel, its care sheet, its receiver's place and the weather."""
    visitor = Visitor(here, season.ring[reader])
    place = season.ring.place("Effie").id
    paths = (
        f"/parcels/{parcel.id}",
        f"/papers/{parcel.id}/care",
        f"/weather/places/{place}",
        "/weather",
    )
    return [words(visitor.get(path)).count(SAID) for path in paths]


def test_where_every_hour_is_there_nothing_is_said(season, here, parcel):
    assert counts(season, here, parcel) == [0, 0, 0, 0]


@pytest.mark.parametrize(
    ("night", "said"),
    [
        ("last", [0, 0, 0, 0]),
        ("tonight", [1, 0, 1, 1]),
        ("first after arrival", [1, 1, 1, 1]),
        ("last on the care sheet", [1, 1, 1, 1]),
        ("two weeks ahead", [0, 0, 0, 0]),
    ],
)
def test_it_is_said_once_where_its_night_matters(season, here, parcel, night, said):
    today = NOW.date()
    day = {
        "last": today - timedelta(days=1),
        "tonight": today,
        "first after arrival": parcel.arrival_from,
        "last on the care sheet": parcel.arrival_from + timedelta(days=7),
        "two weeks ahead": today + timedelta(days=13),
    }[night]
    assert parcel.posting_day == today < parcel.arrival_from
    lose_hours(season, "Effie", day)

    assert counts(season, here, parcel) == said


def test_it_is_said_whose_garden_it_is_and_both_ends_in_one_sentence(season, here, parcel):
    lose_hours(season, "Winnie", parcel.posting_day)
    lose_hours(season, "Effie", parcel.arrival_from)

    page = words(Visitor(here, season.ring["Winnie"]).get(f"/parcels/{parcel.id}"))

    assert page.count(SAID) == 1
    assert "(your garden)" in page
    assert "(Effie, " in page, page[page.index(SAID) :][:200]


def test_a_parcel_without_a_day_is_judged_by_every_day_weighed(season, here, parcel):
    lose_hours(season, "Effie", NOW.date() + timedelta(days=13))
    assert counts(season, here, parcel)[0] == 0

    with season.house.books.writing() as tx:
        PARCELS.change(tx, season.circle_id, parcel.id, posting_day=None)

    assert counts(season, here, parcel)[0] == 1
