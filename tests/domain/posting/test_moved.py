from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from exchange.domain.plan import make_plan
from exchange.domain.posting.reasons import DayWord
from exchange.words.posting.posting_days import moved as moved_sentence
from tests.builders.posting import MONDAY, NOW, a_parcel, an_outlook, facts

GAIN = 0.01


def parcels(count=12):
    return [
        a_parcel(
            n,
            sender_household_id=1 + n % 4,
            sender_place_id=1 + n % 4,
            receiver_household_id=1 + (n + 1) % 4,
            receiver_place_id=1 + (n + 1) % 4,
        )
        for n in range(1, count + 1)
    ]


def told(parcel, plan):
    if plan.day is None:
        return replace(parcel, announced_day=None, announced_way_id=None)
    return replace(parcel, announced_day=plan.day, announced_way_id=plan.way_id)


def a_week(seed, jitter):
    """Plan every morning of a week on forecasts that change, telling members each time."""
    chance = np.random.default_rng(seed)
    true = {n: 4.5 + 2.5 * chance.standard_normal(45) for n in (1, 2, 3, 4)}
    standing = parcels()
    for day in range(7):
        noise = {n: true[n] + jitter * chance.standard_normal(45) for n in true}
        outlooks = {n: an_outlook(n, means=list(noise[n]), sd=1.2) for n in noise}
        now = NOW + timedelta(days=day)
        plan = make_plan(facts(standing, outlooks=outlooks), now)
        yield standing, plan
        today = MONDAY + timedelta(days=day)
        pairs = zip(standing, plan.parcels, strict=True)
        standing = [told(parcel, one) for parcel, one in pairs if one.day != today]


def worth(plan, day):
    """Give plants lost on a day and the waiting until it, from the parcel's own strip."""
    cell = next(one for one in plan.strip if one.day == day)
    return cell.loss + 0.005 * (day - plan.strip[0].day).days


@pytest.mark.parametrize("seed", range(6))
def test_in_a_week_of_changing_forecasts_no_announced_day_moves_without_gain_or_stop(seed):
    for standing, plan in a_week(seed, jitter=1.0):
        before = {parcel.id: parcel.announced_day for parcel in standing}
        moves = [one for one in plan.parcels if one.moved is not None]
        for one in moves:
            assert one.moved.from_day == before[one.parcel_id]
            assert moved_sentence(one.moved)
        free = [one for one in moves if one.moved.stop is None]
        if free and len(free) == len(moves):
            gain = sum(worth(one, one.moved.from_day) - worth(one, one.day) for one in moves)
            assert gain >= GAIN * len(moves) - 1e-3


def test_small_changes_of_the_forecast_move_nothing():
    moves = [
        one
        for _, plan in a_week(3, jitter=0.05)
        for one in plan.parcels
        if one.moved is not None and one.moved.stop is None
    ]
    assert moves == []


def test_larger_changes_do_move_days_and_every_move_is_explained():
    moves = [
        one
        for seed in range(4)
        for _, plan in a_week(seed, 2.0)
        for one in plan.parcels
        if one.moved
    ]
    assert moves
    assert all(moved_sentence(one.moved).startswith(("Moved", "No longer")) for one in moves)


def test_a_day_that_others_have_filled_says_so_in_the_strip():
    four = [replace(one, sender_household_id=1, sender_place_id=1) for one in parcels(12)[::4]]
    more = [replace(four[0], id=20 + n) for n in range(4)]
    plan = make_plan(facts([*four, *more]), NOW)
    words = {cell.word for one in plan.parcels for cell in one.strip if not cell.chosen}
    assert DayWord.DAY_FULL in words
