"""What is known of the weather at each place: the last that was kept, and only of one's own circle."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.weather.blend import Skill
from exchange.domain.weather.daily import DayRead
from exchange.domain.weather.forecast import Forecast
from exchange.records import (
    DAILY_FILES,
    FAULTS,
    OBSERVATIONS,
    PLACE_SKILLS,
    PLACES,
    circles,
    forecasts_kept,
    weather_kept,
)
from exchange.records.columns import to_plain
from tests.app_fixtures import NOW
from tests.builders.weather import a_climate

DAY, HOUR = timedelta(days=1), timedelta(hours=1)
FIRST = date(2027, 3, 1)


@pytest.fixture
def places(tx, circle):
    return [one.id for one in PLACES.all(tx, circle.circle_id)]


@pytest.fixture
def elsewhere(tx, other):
    return PLACES.all(tx, other.circle_id)[0].id


def a_file(tx, circle, place_id, name="one", climate=True, kept_at=NOW):
    return DAILY_FILES.add(
        tx, circle.circle_id, place_id=place_id, name=name, days=[], read_at=NOW, kept_at=kept_at,
        climate=to_plain(replace(a_climate(), name=name)) if climate else None,
    )  # fmt: skip


def test_a_place_has_the_climate_of_the_file_it_kept_last(tx, circle, other, places, elsewhere):
    a_file(tx, circle, places[0], "newest")
    a_file(tx, circle, places[0], "older", kept_at=NOW - DAY)
    a_file(tx, circle, places[0], "only looked at", kept_at=None)
    a_file(tx, circle, places[1], "first of two")
    a_file(tx, circle, places[1], "second of two")
    a_file(tx, circle, places[2], "too short", climate=False)
    a_file(tx, circle, places[2], "only looked at", kept_at=None)
    a_file(tx, other, elsewhere, "of others")

    climates = weather_kept.climates(tx, circle.circle_id)

    assert {place: one.name for place, one in climates.items()} == {
        places[0]: "newest",
        places[1]: "second of two",
    }
    assert climates[places[0]] == replace(a_climate(), name="newest")


def test_a_place_has_the_skill_learned_last(tx, circle, other, places, elsewhere):
    for ring, place, days in (
        (circle, places[0], 3.0),
        (circle, places[0], 4.0),
        (other, elsewhere, 9.0),
    ):
        PLACE_SKILLS.add(
            tx, ring.circle_id, place_id=place, days=days, site_error_k=1.5, shift_k=-0.5,
            nights=30, crps_before_k=1.0, crps_after_k=0.9, kept_at=NOW,
        )  # fmt: skip

    assert weather_kept.skills(tx, circle.circle_id) == {places[0]: Skill(4.0, 1.5, -0.5)}


@pytest.fixture
def observed(tx, circle, other, places, elsewhere):
    """Keep three nights of the first place, the second of them typed in; one each of two others."""
    file_id = a_file(tx, circle, places[0])
    days = [DayRead(FIRST + n * DAY, -1.0 - n, 9.0 + n) for n in (0, 2)]
    weather_kept.add_observed(tx, circle.circle_id, places[0], days, file_id)
    for ring, place, day, low in (
        (circle, places[0], FIRST + DAY, 5.0),
        (circle, places[1], FIRST, 6.0),
        (other, elsewhere, FIRST, 7.0),
    ):
        OBSERVATIONS.add(tx, ring.circle_id, place_id=place, day=day, minimum_c=low)
    return file_id


def test_the_nights_of_a_place_are_given_by_their_day(tx, circle, other, places, observed):
    assert weather_kept.days_observed(tx, circle.circle_id, places[0]) == {
        FIRST: -1.0,
        FIRST + DAY: 5.0,
        FIRST + 2 * DAY: -3.0,
    }
    assert weather_kept.days_observed(tx, other.circle_id, places[0]) == {}


def test_the_nights_of_a_place_are_counted(tx, circle, other, places, observed):
    counts = [weather_kept.count_observed(tx, circle.circle_id, one) for one in places]

    assert counts == [3, 1, 0]
    assert weather_kept.count_observed(tx, other.circle_id, places[0]) == 0


def test_the_last_nights_come_newest_first_and_say_whether_a_file_tells_them(
    tx, circle, other, places, observed
):
    latest = weather_kept.latest_observed(tx, circle.circle_id, places[0], 2)

    assert [one[1:] for one in latest] == [
        (FIRST + 2 * DAY, -3.0, True),
        (FIRST + DAY, 5.0, False),
    ]
    row = OBSERVATIONS.get(tx, circle.circle_id, latest[0][0])
    assert (row.maximum_c, row.file_id) == (11.0, observed)
    assert weather_kept.latest_observed(tx, other.circle_id, places[0], 2) == ()


def test_a_file_without_a_new_day_keeps_none(tx, circle, places):
    weather_kept.add_observed(tx, circle.circle_id, places[0], [], 1)

    assert weather_kept.count_observed(tx, circle.circle_id, places[0]) == 0


def a_forecast(place_id, fetched_at=NOW, **said):
    usual = {"source": "Open-Meteo", "issued_at": NOW - HOUR, "expires_at": NOW, "attribution": ""}
    return Forecast(place_id=place_id, fetched_at=fetched_at, readings=(), **(usual | said))


def test_a_forecast_that_still_stands_is_renewed_and_no_other(tx, circle, other, places):
    asked = a_forecast(places[0])
    others = [
        a_forecast(places[1]),
        a_forecast(places[0], source="MET Norway"),
        a_forecast(places[0], issued_at=NOW - 2 * HOUR),
    ]
    for one in (asked, *others):
        forecasts_kept.add(tx, circle.circle_id, one)
    stamp = circles.get(tx, circle.circle_id).stamp
    again = replace(asked, fetched_at=NOW + HOUR, expires_at=NOW + 6 * HOUR)

    weather_kept.renew(tx, other.circle_id, again)
    weather_kept.renew(tx, circle.circle_id, again)

    tx._session.expire_all()
    kept = [
        one for place in places for one in forecasts_kept.kept(tx, circle.circle_id, place)
    ]  # fmt: skip
    assert set(kept) == {again, *others}
    assert circles.get(tx, circle.circle_id).stamp == stamp + 1


def test_only_the_circle_asked_for_is_renewed(tx, circle, other, places):
    forecasts_kept.add(tx, circle.circle_id, a_forecast(places[0]))

    weather_kept.renew(tx, other.circle_id, a_forecast(places[0], fetched_at=NOW + HOUR))

    tx._session.expire_all()
    assert forecasts_kept.kept(tx, circle.circle_id, places[0])[0].fetched_at == NOW


def fetched(tx, circle, place_id):
    return [one.fetched_at for one in forecasts_kept.kept(tx, circle.circle_id, place_id)]


def test_of_past_days_the_first_forecast_of_each_place_stays_and_always_its_last(
    tx, circle, other, places, elsewhere
):
    for day in (5, 4):
        for hour in (0, 1, 2):
            for ring, place in ((circle, places[0]), (other, elsewhere)):
                at = NOW - day * DAY + hour * HOUR
                forecasts_kept.add(tx, ring.circle_id, a_forecast(place, at))
    forecasts_kept.add(tx, circle.circle_id, a_forecast(places[1], NOW - 4 * DAY + HOUR))

    weather_kept.thin(tx, circle.circle_id, NOW - 2 * DAY)

    assert fetched(tx, circle, places[0]) == [
        NOW - 5 * DAY,
        NOW - 4 * DAY,
        NOW - 4 * DAY + 2 * HOUR,
    ]
    assert len(fetched(tx, circle, places[1])) == 1
    assert len(fetched(tx, other, elsewhere)) == 6


def test_forecasts_from_the_instant_on_all_stay(tx, circle, places):
    for hour in range(4):
        forecasts_kept.add(tx, circle.circle_id, a_forecast(places[0], NOW + hour * HOUR))

    weather_kept.thin(tx, circle.circle_id, NOW + HOUR)

    assert len(fetched(tx, circle, places[0])) == 4

    weather_kept.thin(tx, circle.circle_id, NOW + 1.5 * HOUR)

    assert len(fetched(tx, circle, places[0])) == 3


def test_faults_before_an_instant_are_forgotten_in_this_circle_only(tx, circle, other):
    for ring in (circle, other):
        for hours in (0, 1):
            FAULTS.add(tx, ring.circle_id, source="MET Norway", what="", at=NOW - hours * HOUR)

    weather_kept.forget_faults(tx, circle.circle_id, NOW)

    assert [one.at for one in FAULTS.all(tx, circle.circle_id)] == [NOW]
    assert len(FAULTS.all(tx, other.circle_id)) == 2
