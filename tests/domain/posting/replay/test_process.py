import math
from datetime import date

import numpy as np
import pytest

from exchange.domain.posting.replay.process import (
    LEADS,
    ReplayParcel,
    forecasts,
    in_transit,
    outcome,
    parcels,
    skill,
    weekday,
)
from exchange.domain.posting.replay.springs import (
    BEFORE_MARCH,
    READY,
    NoSpringsError,
    past_springs,
)
from tests.builders.springs import daily_minima


@pytest.fixture(scope="module")
def springs():
    return past_springs(daily_minima(years=range(2001, 2013)))


def test_the_axis_holds_the_night_after_the_day_and_its_weekday(springs):
    series = daily_minima(years=range(2001, 2013))
    assert springs.lows[0, 0, BEFORE_MARCH] == series["station 0"][date(2001, 3, 2)]
    assert springs.lows[1, 3, READY] == series["station 1"][date(2004, 3, 11)]
    assert weekday(springs, 3, READY) == date(2004, 3, 10).weekday()


def test_only_the_last_springs_without_a_gap_count():
    series = daily_minima(years=range(1960, 2000))
    del series["station 1"][date(1990, 4, 4)]
    found = past_springs(series)
    assert len(found.years) == 30
    assert 1990 not in found.years
    assert found.years[-1] == 1999


def test_too_few_springs_are_refused_in_words():
    with pytest.raises(NoSpringsError, match="Only 2 springs"):
        past_springs(daily_minima(years=range(2001, 2003)))


def test_forecasts_have_the_skill_they_are_said_to_have(springs):
    """R2 = exp(-L / 8.656) with L the lead and a half; the forecast is the mean given itself."""
    assert skill()[[0, 9]] == pytest.approx([math.exp(-1.5 / 8.656), math.exp(-10.5 / 8.656)])
    wide = past_springs(daily_minima(colds=(1.0, 2.0, 3.0, 4.0), years=range(1960, 2000)))
    drawn = forecasts(wide, np.random.default_rng(1))
    for lead in (0, 3, 9):
        nights = slice(lead, wide.lows.shape[2])
        told = (drawn[:, :, : wide.lows.shape[2] - lead, lead] - wide.usual[:, None, nights]) / (
            wide.spread[:, None, nights]
        )
        true = wide.anomalies()[:, :, nights]
        assert np.corrcoef(told.ravel(), true.ravel())[0, 1] ** 2 == pytest.approx(
            skill()[lead], abs=0.03
        )
        assert (told * true).mean() / (told**2).mean() == pytest.approx(1, abs=0.06)
    assert LEADS == 10


def test_errors_are_the_same_at_both_ends_and_new_at_every_issue(springs):
    drawn = forecasts(springs, np.random.default_rng(1))
    share = skill()[2]
    usual, spread = springs.usual[:, None, 42], springs.spread[:, None, 42]
    told = (drawn[:, :, 40, 2] - usual) / spread - share * springs.anomalies()[:, :, 42]
    assert told[0] == pytest.approx(told[1])


def test_parcels_travel_between_two_different_files(springs):
    sent = parcels(springs, np.random.default_rng(2), count=40)
    assert len(sent) == 40 * len(springs.years)
    assert all(one.sender != one.receiver for one in sent)
    assert {one.ready - READY for one in sent} == set(range(50))


def test_one_file_stands_at_both_ends():
    alone = past_springs(daily_minima(colds=(2.0,)))
    sent = parcels(alone, np.random.default_rng(2), count=3)
    assert {(one.sender, one.receiver) for one in sent} == {(0, 0)}


def test_frosted_nights_are_counted_at_the_sender_first_then_at_the_receiver(springs):
    lows = springs.lows.copy()
    lows[:] = 5.0
    monday = next(day for day in range(30, 37) if weekday(springs, 0, day) == 0)
    lows[0, 0, monday] = 0.0
    lows[1, 0, monday + 1] = -1.0
    lows[0, 0, monday + 1] = -9.0
    cold = type(springs)(
        springs.names, springs.years, springs.weekdays, lows, springs.usual, springs.spread
    )
    assert outcome(cold, ReplayParcel(0, 0, 1, monday, 0), monday).frosted == 1
    assert outcome(cold, ReplayParcel(0, 0, 1, monday, 1), monday).frosted == 2
    saturday = outcome(cold, ReplayParcel(0, 0, 1, monday, 0), monday + 5)
    assert saturday.over_sunday
    assert not outcome(cold, ReplayParcel(0, 0, 1, monday, 3), monday).over_sunday


def test_the_chance_of_being_on_the_way_walks_round_sunday():
    still = in_transit()
    assert still[0] == pytest.approx([1, 0.225, 0.077, 0.034, 0, 0])
    assert still[5] == pytest.approx([1, 1, 0.225, 0.077, 0.034, 0])
