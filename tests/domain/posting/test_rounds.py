"""Which round a moment belongs to, and from when silence means that a parcel has gone."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.rounds import Round, just_struck, probably_gone, telling_at
from tests.builders.posting import a_parcel

LONDON = ZoneInfo("Europe/London")
MONDAY, TUESDAY = date(2027, 4, 5), date(2027, 4, 6)


def at(day, hour, minute=0, zone=LONDON):
    return datetime.combine(day, time(hour, minute), zone)


@pytest.mark.parametrize(
    ("hour", "about"),
    [
        (0, (Round.EVENING, MONDAY)),
        (6, (Round.EVENING, MONDAY)),
        (7, (Round.MORNING, MONDAY)),
        (11, (Round.MORNING, MONDAY)),
        (12, (Round.NOON, TUESDAY)),
        (17, (Round.NOON, TUESDAY)),
        (18, (Round.EVENING, TUESDAY)),
        (23, (Round.EVENING, TUESDAY)),
    ],
)
def test_a_moment_belongs_to_one_round_and_one_posting_day(hour, about):
    found = telling_at(at(MONDAY, hour))

    assert (found.round, found.day) == about


def test_an_hour_has_just_struck_for_as_long_as_asked():
    within = timedelta(hours=2)
    struck = [
        minute
        for minute in range(0, 24 * 60, 30)
        if just_struck(at(MONDAY, minute // 60, minute % 60), (12,), within)
    ]

    assert struck == [720, 750, 780, 810]


def test_an_hour_of_yesterday_may_just_have_struck():
    assert just_struck(at(TUESDAY, 0, 30), (23,), timedelta(hours=2))
    assert not just_struck(at(TUESDAY, 1, 0), (23,), timedelta(hours=2))


@pytest.mark.parametrize(
    ("day", "hour", "state"),
    [
        (MONDAY, 9, ParcelState.ANNOUNCED),
        (MONDAY, 16, ParcelState.ANNOUNCED),
        (MONDAY, 17, ParcelState.POSTED),
        (TUESDAY, 0, ParcelState.POSTED),
    ],
)
def test_once_the_days_post_has_closed_it_has_probably_gone(day, hour, state):
    parcel = a_parcel(state=ParcelState.ANNOUNCED, announced_day=MONDAY)

    found = probably_gone(parcel, at(day, hour), time(16))

    assert found.state is state
    assert found.posted_on == (MONDAY if state is ParcelState.POSTED else None)


@pytest.mark.parametrize("state", [ParcelState.PLANNED, ParcelState.ARRIVED, ParcelState.LOST])
def test_of_other_parcels_nothing_is_supposed(state):
    parcel = a_parcel(state=state, announced_day=MONDAY)

    assert probably_gone(parcel, at(date(2027, 5, 1), 12), time(16)) == parcel
