import math
from datetime import date

import numpy as np
import pytest

from exchange.domain.posting.replay.process import (
    ALIKE,
    ALIKE_KM,
    NEIGHBOURS,
    NEW_SHARE,
    Process,
    forecasts,
    kept_error,
    skill,
)
from exchange.domain.posting.replay.springs import (
    BEFORE_MARCH,
    DAYS,
    READY,
    NoSpringsError,
    past_springs,
)
from tests.builders.springs import daily_minima

APART_KM = 350.0
LONG = np.array([[0.0, APART_KM], [APART_KM, 0.0]])


@pytest.fixture(scope="module")
def springs():
    return past_springs(daily_minima(years=range(1970, 2000)))


@pytest.fixture(scope="module")
def drawn(springs):
    return {one: forecasts(springs, one, LONG, np.random.default_rng(1)) for one in Process}


def noise(springs, drawn, lead):
    """Take the error e of a lead back out of the forecasts (files, springs, evenings)."""
    nights, share = slice(lead, DAYS), skill()[lead]
    usual, spread = springs.usual[:, :, nights], springs.spread[:, :, nights]
    told = drawn[:, :, : DAYS - lead, lead]
    expected = usual + share * (springs.lows[:, :, nights] - usual)
    return (told - expected) / (math.sqrt(share * (1 - share)) * spread)


def errors(springs, drawn, lead):
    """Give forecast less minimum, for one of the spread of the nights (files, springs, evenings)."""
    nights = slice(lead, DAYS)
    return (drawn[:, :, : DAYS - lead, lead] - springs.lows[:, :, nights]) / (
        springs.spread[:, :, nights]
    )


def from_issue_to_issue(values, lead):
    """Correlate what two issues running say of the same nights, from a place in the leads to the one before."""
    before, after = values(lead)[:, :, :-1], values(lead - 1)[:, :, 1:-1]
    return correlation(before[:, :, : after.shape[2]], after)


def correlation(one, other):
    return float(np.corrcoef(one.ravel(), other.ravel())[0, 1])


# The springs


def test_the_axis_holds_the_night_after_the_day_and_its_weekday(springs):
    series = daily_minima(years=range(1970, 2000))

    assert springs.lows[0, 0, BEFORE_MARCH] == series["station 0"][date(1970, 3, 2)]
    assert springs.lows[1, 3, READY] == series["station 1"][date(1973, 3, 12)]
    assert (springs.weekdays[3] + READY) % 7 == date(1973, 3, 11).weekday()


def test_only_the_last_springs_without_a_gap_count():
    series = daily_minima(years=range(1960, 2000))
    del series["station 1"][date(1990, 4, 4)]

    found = past_springs(series)

    assert len(set(found.years)) == 30
    assert 1990 not in found.years
    assert found.years[-1] == 1999


def test_too_few_springs_are_refused_in_words():
    with pytest.raises(NoSpringsError, match="Only 2 springs"):
        past_springs(daily_minima(years=range(2001, 2003)))


# Either process


@pytest.mark.parametrize("process", Process)
@pytest.mark.parametrize("lead", [0, 3, 9])
def test_forecasts_have_the_skill_they_are_said_to_have(springs, drawn, process, lead):
    """R2 = exp(-(L + 0.5) / 8.656) with L from 1, and a forecast is the mean of what comes, given itself."""
    assert skill()[lead] == pytest.approx(math.exp(-(lead + 1.5) / 8.656))

    nights = slice(lead, DAYS)
    usual, spread = springs.usual[:, :, nights], springs.spread[:, :, nights]
    told = (drawn[process][:, :, : DAYS - lead, lead] - usual) / spread
    true = (springs.lows[:, :, nights] - usual) / spread
    assert correlation(told, true) ** 2 == pytest.approx(skill()[lead], abs=0.03)
    assert (told * true).mean() / (told**2).mean() == pytest.approx(1, abs=0.06)


@pytest.mark.parametrize("process", Process)
def test_errors_of_neighbouring_nights_go_together(springs, drawn, process):
    tonight, tomorrow = (noise(springs, drawn[process], lead) for lead in (3, 4))

    alike = correlation(tonight[:, :, : tomorrow.shape[2]], tomorrow)

    assert alike == pytest.approx(NEIGHBOURS, abs=0.03)


# As before


def test_errors_as_before_are_new_at_each_issue_and_the_same_everywhere(springs, drawn):
    def values(lead):
        return noise(springs, drawn[Process.AS_BEFORE], lead)

    assert from_issue_to_issue(values, 2) == pytest.approx(0, abs=0.04)
    assert values(2)[0] == pytest.approx(values(2)[1])


# Lasting


def test_a_lasting_error_keeps_what_an_efficient_forecast_keeps():
    assert kept_error(10)[[0, 3]] == pytest.approx([0.75, 0.88], abs=0.005)


@pytest.mark.parametrize("lead", [1, 4])
def test_a_fifth_of_the_lasting_error_is_new_at_each_issue(springs, drawn, lead):
    def values(at):
        return noise(springs, drawn[Process.LASTING], at)

    found = from_issue_to_issue(values, lead)

    assert found == pytest.approx((1 - NEW_SHARE) * kept_error(10)[lead - 1], abs=0.03)


@pytest.mark.parametrize(("lead", "low", "high"), [(1, 0.6, 0.8), (4, 0.75, 0.9)])
def test_errors_of_a_night_go_on_from_day_to_day_as_forecasts_do(springs, drawn, lead, low, high):
    def values(at):
        return errors(springs, drawn[Process.LASTING], at)

    assert low < from_issue_to_issue(values, lead) < high


def test_two_places_far_apart_differ_in_their_errors(springs, drawn):
    one, other = errors(springs, drawn[Process.LASTING], 2)
    e_one, e_other = noise(springs, drawn[Process.LASTING], 2)

    assert (one - other).std() >= 0.8 * one.std()
    assert correlation(e_one, e_other) == pytest.approx(
        ALIKE * math.exp(-APART_KM / ALIKE_KM), abs=0.05
    )
