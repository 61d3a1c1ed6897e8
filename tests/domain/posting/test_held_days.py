"""Announced days in the plan: announced late, held, moved for a ground, never for want of knowledge."""

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest

from exchange.domain.circle.away import Away
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.plan import make_plan
from exchange.domain.posting.announced import Ground
from exchange.domain.posting.reasons import DayWord, Topic
from exchange.words.posting.posting_days import answer, moved
from tests.builders.announcing import (
    NEXT_MONDAY,
    TUESDAY,
    WEDNESDAY,
    a_told,
    both,
    colder,
    plan_one,
)
from tests.builders.posting import (
    MONDAY,
    NOW,
    a_household,
    a_line,
    a_parcel,
    facts,
)

# When it is announced


def test_a_day_further_off_than_four_days_is_named_by_its_week_only():
    late = a_parcel(lines=(a_line(ready_from=date(2027, 4, 10)),))

    plan = plan_one(late)

    assert (plan.day, plan.announced) == (NEXT_MONDAY, False)
    assert plan.reasons[0].about is Topic.ABOUT
    assert "about the week of" in answer(plan).lower()
    assert f"{NEXT_MONDAY.day}" in answer(plan)


def test_it_is_announced_on_the_fourth_day_before():
    late = a_parcel(lines=(a_line(ready_from=date(2027, 4, 10)),))

    before = plan_one(late, datetime(2027, 4, 7, 7, tzinfo=UTC), outlooks=both(8))
    on_it = plan_one(late, datetime(2027, 4, 8, 7, tzinfo=UTC), outlooks=both(8))

    assert (before.announced, on_it.announced) == (False, True)
    assert on_it.told_loss == on_it.loss_chance


@pytest.mark.parametrize(("hour", "day"), [(17, TUESDAY), (18, WEDNESDAY)])
def test_late_in_the_evening_nobody_is_told_a_day_for_tomorrow(hour, day):
    """Seven in the evening at the sender's is 18:00 UTC in April."""
    assert plan_one(now=datetime(2027, 4, 5, hour, 30, tzinfo=UTC)).day == day


# What moves it


def test_an_announced_day_stands_for_less_than_the_gain():
    plan = plan_one(a_told())

    assert (plan.day, plan.moved) == (WEDNESDAY, None)


def test_it_moves_where_another_day_is_safer_and_says_by_how_much():
    plan = plan_one(a_told(), outlooks=colder(-0.3, slice(2, 4)))

    assert plan.moved is not None
    assert plan.moved.ground is Ground.SAFER
    assert plan.moved.old_loss - plan.moved.new_loss >= 0.02
    assert "instead of" in moved(plan.moved)


def test_it_is_held_over_the_limit_and_the_reason_says_so():
    cold_house = (Shelter(2, ShelterKind.COLD),)
    over = [
        plan_one(a_told(loss=0.04), outlooks=both(mean, sd=0.8), shelters=cold_house)
        for mean in np.arange(-2.0, 4.0, 0.05)
    ]
    held = [one for one in over if one.day == WEDNESDAY and one.loss_chance > 0.05]

    assert held
    assert max(one.loss_chance for one in held) <= 0.075
    assert all(Topic.STANDS in {reason.about for reason in one.reasons} for one in held)


def test_it_is_withdrawn_where_its_loss_grows_far_and_says_from_what_to_what():
    plan = plan_one(a_told(), outlooks=both(-6))

    assert (plan.day, plan.moved.to_day, plan.moved.ground) == (None, None, Ground.RISKIER)
    assert "when it was told" in moved(plan.moved)


def test_it_moves_for_a_hard_stop_and_says_which():
    plan = plan_one(a_told(MONDAY), away=(Away(2, MONDAY, date(2027, 4, 9)),))

    assert plan.moved.ground is Ground.STOPPED
    assert plan.moved.stop.word is DayWord.AWAY
    assert not plan.announced
    assert "about the week of" in moved(plan.moved)


def test_a_day_that_went_by_is_said_to_have_gone():
    plan = plan_one(a_told(date(2027, 4, 1)))

    assert plan.moved.stop.word is DayWord.PAST


def test_a_day_that_a_person_s_parcel_takes_up_is_given_up_and_says_so():
    own = [a_told(n_day, by_person=True) for n_day in (WEDNESDAY,)]
    others = [replace(own[0], id=20 + n, code=f"Sorrel {n}") for n in (1, 2)]
    pushed = replace(a_told(), id=9)

    plans = make_plan(facts([*own, *others, pushed]), NOW)

    assert plans.of(9).day != WEDNESDAY
    assert plans.of(9).moved.stop.word is DayWord.DAY_FULL
    assert [plans.of(one).day for one in (1, 21, 22)] == [WEDNESDAY] * 3


def test_an_announced_day_comes_before_any_that_is_not():
    packs_one = {n: a_household(n, parcels_a_day=1) for n in (1, 2)}
    held = a_told(TUESDAY)
    dearer = replace(a_parcel(2), lines=(a_line(2, count=9),))

    plans = make_plan(facts([held, dearer], households=packs_one), NOW)

    assert plans.of(1).day == TUESDAY
    assert plans.of(2).day == WEDNESDAY
