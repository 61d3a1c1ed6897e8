"""Seasons: which one a day lies in, and that they follow each other without a gap."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.domain.circle.circle_season import CircleSeason, a_year_later, season_of

DAYS = st.dates(date(2000, 1, 1), date(2100, 12, 31))


def test_a_season_goes_from_october_to_the_end_of_september():
    season = season_of(date(2027, 4, 11))

    assert (season.first, season.last) == (date(2026, 10, 1), date(2027, 9, 30))


def test_the_first_of_october_is_a_new_season():
    assert season_of(date(2027, 9, 30)) == CircleSeason(2026)
    assert season_of(date(2027, 10, 1)) == CircleSeason(2027)


@given(DAYS)
def test_every_day_lies_in_its_season_and_in_no_other(day):
    season = season_of(day)

    assert season.holds(day)
    assert not season.before.holds(day)
    assert not season.next.holds(day)


@given(DAYS)
def test_seasons_follow_each_other(day):
    season = season_of(day)

    assert season.next.first - season.last == timedelta(days=1)
    assert season.next.before == season


@pytest.mark.parametrize(
    ("day", "later"),
    [
        (date(2027, 4, 11), date(2028, 4, 9)),  # second Sunday of April
        (date(2027, 2, 14), date(2028, 2, 13)),  # second Sunday of February
        (date(2027, 8, 29), date(2028, 8, 27)),  # last Sunday of August
        (date(2024, 2, 29), date(2025, 2, 27)),  # last Thursday of February
        (date(2027, 5, 1), date(2028, 5, 6)),  # first Saturday of May
    ],
)
def test_a_year_later_is_the_same_sunday_of_the_month(day, later):
    assert a_year_later(day) == later


@given(DAYS)
def test_a_year_later_keeps_weekday_and_month(day):
    later = a_year_later(day)

    assert (later.year, later.month) == (day.year + 1, day.month)
    assert later.weekday() == day.weekday()
