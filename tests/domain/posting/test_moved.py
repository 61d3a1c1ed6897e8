"""Announced days over many mornings, and days that people chose."""

import re
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from exchange.domain.circle.away import Away
from exchange.domain.plan import make_plan
from exchange.domain.posting.announced import Ground, free_days, judge
from exchange.domain.posting.held_days import choices
from exchange.domain.posting.options import cases
from exchange.domain.posting.packed import weigh_packed
from exchange.domain.posting.planned_days import planned_days
from exchange.domain.posting.reasons import DayWord
from exchange.words.posting.posting_days import asked, moved, moved_because
from tests.builders.announcing import WEDNESDAY, a_told, both, colder, plan_one, told
from tests.builders.posting import (
    EVE,
    MONDAY,
    NOW,
    a_parcel,
    an_outlook,
    facts,
)

# A person's day


def test_a_persons_day_stands_and_the_person_is_asked_with_the_figures():
    plan = plan_one(a_told(by_person=True), outlooks=colder(-3.0))

    assert (plan.day, plan.moved, plan.announced) == (WEDNESDAY, None, True)
    assert plan.asked.ground is Ground.RISKIER
    assert plan.asked.to_day not in (None, WEDNESDAY)
    assert "You chose that day" in asked(plan.asked)
    assert "it was 1 in 100 when it was told" in plain(asked(plan.asked))


def test_a_persons_day_stands_even_where_it_is_stopped():
    away = (Away(2, MONDAY, date(2027, 4, 10)),)

    plan = plan_one(a_told(by_person=True), away=away)

    assert (plan.day, plan.announced) == (WEDNESDAY, True)
    assert plan.asked.stop.word is DayWord.AWAY


def test_nothing_is_asked_while_nothing_speaks_against_a_persons_day():
    plan = plan_one(a_told(by_person=True))

    assert (plan.day, plan.asked) == (WEDNESDAY, None)


# Over many mornings


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


def a_week(seed, jitter):
    """Plan every morning of a week on forecasts that change, telling members each time."""
    chance = np.random.default_rng(seed)
    true = {n: 4.5 + 2.5 * chance.standard_normal(45) for n in (1, 2, 3, 4)}
    standing = parcels()
    for day in range(7):
        noise = {n: true[n] + jitter * chance.standard_normal(45) for n in true}
        outlooks = {n: an_outlook(n, means=list(noise[n]), sd=1.2) for n in noise}
        plan = make_plan(facts(standing, outlooks=outlooks), EVE + timedelta(days=day))
        yield standing, plan
        today = EVE.date() + timedelta(days=day)
        pairs = zip(standing, plan.parcels, strict=True)
        standing = [told(parcel, one) for parcel, one in pairs if one.day != today]


@pytest.mark.parametrize("seed", range(6))
def test_in_a_week_of_changing_forecasts_every_move_has_its_ground(seed):
    for standing, plan in a_week(seed, jitter=1.0):
        before = {parcel.id: parcel.announced_day for parcel in standing}
        for one in plan.parcels:
            if one.moved is None:
                assert before[one.parcel_id] in (None, one.day)
                continue
            assert one.moved.from_day == before[one.parcel_id]
            match one.moved.ground:
                case Ground.SAFER:
                    assert one.moved.old_loss - one.moved.new_loss >= 0.02
                case Ground.RISKIER:
                    assert one.moved.old_loss > 0.075
                case Ground.STOPPED:
                    assert one.moved.stop is not None


def test_small_changes_of_the_forecast_move_nothing():
    assert [one for _, plan in a_week(3, 0.05) for one in plan.parcels if one.moved] == []


def plain(sentence):
    return sentence.replace("\u00a0", " ").replace("Fewer", "fewer").replace("Over", "over")


def test_larger_changes_do_move_days_and_every_move_is_told_in_figures_that_differ():
    moves = [
        one.moved
        for seed in range(4)
        for _, plan in a_week(seed, 2.5)
        for one in plan.parcels
        if one.moved
    ]

    assert moves
    for one in moves:
        assert moved(one).startswith(("Moved", "No longer"))
        if one.ground is not Ground.STOPPED:
            shown = re.findall(r"(fewer than 1|over 99|\d+) in 100", plain(moved_because(one)))
            assert len(shown) == len(set(shown)) == 2


@pytest.mark.parametrize("seed", range(4))
def test_the_plan_practises_the_rule_on_plain_numbers(seed):
    """One parcel without others to think of: what the plan does is what `judge` says of its day."""
    chance = np.random.default_rng(seed)
    parcel, outcomes = a_parcel(), set()
    for n in range(14):
        now = EVE + timedelta(days=n % 3)
        mean = [float(one) for one in 3.5 + 3.0 * chance.standard_normal(45)]
        around = facts([parcel], outlooks=both(mean, sd=1.2))
        case = cases([parcel], around, now)[0]
        choice = choices(case, weigh_packed(planned_days((case,), around))[1], around)

        plan = make_plan(around, now).parcels[0]

        ahead = None if plan.day is None else (plan.day - case.today).days
        expected = judge(choice.told, choice.weighed, ahead, around.terms.announcing)
        outcomes.add(expected.outcome)
        free = free_days(choice.told, choice.weighed, around.terms.announcing)
        assert ahead is None or free[ahead]
        assert plan.announced == (expected.told is not None)
        assert (plan.moved is None) == (expected.ground is None)
        parcel = told(parcel, plan)
        if parcel.announced_day and parcel.announced_day <= now.date():
            parcel = a_parcel()
    assert len(outcomes) > 2


def test_a_day_that_others_have_filled_says_so_in_the_strip():
    four = [replace(one, sender_household_id=1, sender_place_id=1) for one in parcels(12)[::4]]
    more = [replace(four[0], id=20 + n) for n in range(4)]

    plan = make_plan(facts([*four, *more]), NOW)

    words = {cell.word for one in plan.parcels for cell in one.strip if not cell.chosen}
    assert DayWord.DAY_FULL in words
