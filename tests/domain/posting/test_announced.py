"""An announced day stands: the rule on losses alone."""

import math
from datetime import date

import numpy as np
import pytest

from exchange.domain.posting.announced import (
    DayOutcome,
    Ground,
    Told,
    WeighedDays,
    earliest_ahead,
    free_days,
    is_announced,
    is_safer,
    is_too_risky,
    judge,
    nearer,
    prints_alike,
    week_of,
)
from exchange.domain.posting.circumstances import PostingTerms
from exchange.words.kernel.chances import in_hundred

RULE = PostingTerms().announcing
LIMIT = 0.05


def weighed(*losses, stopped=(), earliest=1, less_known=False):
    shut = np.array([day in stopped for day in range(len(losses))])
    return WeighedDays(np.array(losses), shut, LIMIT, earliest, less_known)


def settled(told, days):
    """Choose the safest day that is free and good enough, the sooner of two alike, and judge."""
    free = free_days(told, days, RULE)
    good = free & (days.losses <= LIMIT)
    ahead = int(np.flatnonzero(good)[days.losses[good].argmin()]) if good.any() else None
    return judge(told, days, ahead, RULE)


# When a day is announced


@pytest.mark.parametrize(("ahead", "told"), [(1, True), (4, True), (5, False), (0, False)])
def test_a_day_is_announced_at_most_four_days_before_and_by_the_evening_before(ahead, told):
    losses = [0.4] * 9
    losses[ahead] = 0.01

    verdict = settled(None, weighed(*losses))

    assert is_announced(ahead, 1, RULE) is told
    assert (verdict.told is not None) is told
    assert (
        verdict.outcome
        is {
            0: DayOutcome.NO_DAY,
            1: DayOutcome.ANNOUNCED,
            4: DayOutcome.ANNOUNCED,
            5: DayOutcome.ABOUT,
        }[ahead]
    )


def test_once_the_evening_is_over_tomorrow_is_not_announced_any_more():
    verdict = settled(None, weighed(0.4, 0.01, 0.02, earliest=2))

    assert verdict.ahead == 2


@pytest.mark.parametrize("day", [date(2027, 4, 12), date(2027, 4, 15), date(2027, 4, 18)])
def test_a_day_not_yet_announced_is_named_by_its_week(day):
    assert week_of(day) == date(2027, 4, 12)


# What moves it


def test_another_day_is_taken_only_for_two_plants_in_a_hundred():
    told = Told(2, 0.03)

    near = settled(told, weighed(0.4, 0.4, 0.03, 0.012))
    far = settled(told, weighed(0.4, 0.4, 0.03, 0.009))

    assert (near.outcome, near.told) == (DayOutcome.STANDS, told)
    assert (far.outcome, far.ahead, far.ground) == (DayOutcome.MOVED, 3, Ground.SAFER)


def test_a_day_is_held_until_its_loss_passes_one_and_a_half_times_the_limit():
    told = Told(2, 0.03)

    held = settled(told, weighed(0.4, 0.4, 0.074, 0.06))
    left = settled(told, weighed(0.4, 0.4, 0.081, 0.09))

    assert (held.outcome, held.told) == (DayOutcome.STANDS, told)
    assert (left.outcome, left.told, left.ground) == (DayOutcome.WITHDRAWN, None, Ground.RISKIER)


def test_a_day_announced_over_the_limit_is_held_to_its_own_loss():
    assert not is_too_risky(0.17, 0.12, LIMIT, RULE)
    assert is_too_risky(0.19, 0.12, LIMIT, RULE)


def test_what_stops_a_day_moves_it_at_once():
    moved = settled(Told(2, 0.01), weighed(0.4, 0.4, 0.01, 0.01, stopped={2}))

    assert (moved.outcome, moved.ahead, moved.ground) == (DayOutcome.MOVED, 3, Ground.STOPPED)


def test_a_day_left_for_one_far_off_is_withdrawn_and_not_announced_again_yet():
    left = settled(Told(1, 0.01), weighed(0.4, 0.2, 0.4, 0.4, 0.4, 0.4, 0.01))

    assert (left.outcome, left.told, left.ahead) == (DayOutcome.WITHDRAWN, None, 6)


# What never moves it


@pytest.mark.parametrize("now", [0.09, 0.9, float("nan")])
def test_where_less_is_known_than_before_only_a_stop_moves_a_day(now):
    told = Told(2, 0.03)

    dark = settled(told, weighed(0.4, 0.4, now, 0.001, less_known=True))
    shut = settled(told, weighed(0.4, 0.4, now, 0.001, stopped={2}, less_known=True))

    assert (dark.outcome, dark.told) == (DayOutcome.STANDS, told)
    assert shut.ground is Ground.STOPPED


def test_a_day_of_which_the_weather_is_not_known_any_more_stands():
    assert settled(Told(2, 0.03), weighed(0.4, 0.4, float("nan"), 0.001)).told == Told(2, 0.03)


@pytest.mark.parametrize(
    ("losses", "stopped", "ground"),
    [
        ((0.4, 0.4, 0.5, 0.01), (), Ground.RISKIER),
        ((0.4, 0.4, 0.04, 0.01), (), Ground.SAFER),
        ((0.4, 0.4, 0.01, 0.01), (2,), Ground.STOPPED),
    ],
)
def test_a_day_that_a_person_chose_stands_and_the_person_is_asked(losses, stopped, ground):
    told = Told(2, 0.03, by_person=True)

    asked = settled(told, weighed(*losses, stopped=stopped))

    assert asked.outcome is DayOutcome.ASKED
    assert asked.told == told
    assert (asked.ahead, asked.ground) == (3, ground)


def test_two_figures_that_print_alike_are_no_reason():
    fine = PostingTerms(announced_gain=0.002, loss_limit=0.002).announcing

    assert not is_safer(0.0452, 0.0548, fine)
    assert is_safer(0.0448, 0.0548, fine)
    assert not is_too_risky(0.0049, 0.002, 0.002, fine)
    assert is_too_risky(0.0052, 0.002, 0.002, fine)


def test_figures_print_alike_where_they_read_alike():
    chances = [n / 1000 for n in range(1001)]

    for one, other in zip(chances, chances[7:], strict=False):
        assert prints_alike(one, other) == (in_hundred(one) == in_hundred(other))


def test_over_random_forecasts_no_day_moves_without_its_ground_nor_into_the_dark():
    chance = np.random.default_rng(7)
    told, moves = None, 0

    for _ in range(4000):
        days = weighed(
            *chance.choice([0.004, 0.02, 0.045, 0.06, 0.08, 0.3], 10),
            stopped=set(chance.integers(0, 40, 2)),
            less_known=bool(chance.random() < 0.2),
        )
        verdict = settled(told, days)
        if told is not None and verdict.told != told:
            moves += 1
            shut = bool(days.stopped[told.ahead])
            now = days.losses[told.ahead]
            risky = now > 1.5 * LIMIT
            safer = verdict.ahead is not None and now - days.losses[verdict.ahead] >= 0.02
            assert shut or (not days.less_known and (risky or safer))
        told = nearer(verdict.told) if verdict.told and verdict.told.ahead > 0 else None

    assert moves > 100


# The edges of the rule


@pytest.mark.parametrize(("hour", "first"), [(0, 1), (18, 1), (19, 2), (23, 2)])
def test_tomorrow_is_announced_until_seven_in_the_evening(hour, first):
    assert earliest_ahead(hour) == first


def test_a_day_that_stands_is_free_beside_those_that_are_safer_by_enough():
    free = free_days(Told(ahead=2, loss=0.03), weighed(0.0, 0.5, 0.03, 0.02, 0.009), RULE)

    assert free.tolist() == [False, False, True, False, True]


def test_a_day_grown_too_dangerous_is_not_free_and_every_other_is():
    free = free_days(Told(ahead=2, loss=0.03), weighed(0.0, 0.5, 0.3, 0.02, 0.29), RULE)

    assert free.tolist() == [False, True, False, True, True]


def test_a_day_told_before_its_loss_was_known_is_held_to_the_limit():
    assert not is_too_risky(0.075, math.nan, LIMIT, RULE)
    assert is_too_risky(0.08, math.nan, LIMIT, RULE)


def test_a_day_told_over_the_limit_is_held_to_its_own_loss():
    assert not is_too_risky(0.15, 0.1, LIMIT, RULE)
    assert is_too_risky(0.16, 0.1, LIMIT, RULE)


def test_two_in_a_hundred_is_gain_enough():
    assert is_safer(0.0, 0.02, RULE)
    assert not is_safer(0.0, 0.019, RULE)


def test_nothing_announced_is_nothing_a_day_later():
    assert nearer(None) is None
    assert nearer(Told(ahead=3, loss=0.03)) == Told(ahead=2, loss=0.03)
