from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.growing.variety import Species
from exchange.domain.plan import make_plan
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.options import cases
from exchange.domain.posting.reasons import PostingReason, Topic
from exchange.domain.posting.warmth import warm_from
from exchange.domain.weather.climate import usual_night
from tests.builders.posting import MONDAY, NOW, a_line, a_parcel, an_outlook, facts
from tests.builders.weather import a_climate

COLEUS = a_parcel(
    1,
    lines=(
        a_line(1, species=Species.DAHLIA),
        a_line(2, species=Species.COLEUS, send_by=date(2027, 8, 1)),
    ),
)
SHROPSHIRE = a_climate()
USUAL = {1: SHROPSHIRE, 2: SHROPSHIRE}


def found(limit_c, usual=None, parcel=COLEUS):
    around = facts([parcel], usual=USUAL if usual is None else usual)
    (case,) = cases([parcel], around, NOW)
    return warm_from(case, limit_c, around)


@pytest.mark.parametrize("limit_c", [4.0, 6.0, 8.0, 10.0])
def test_it_is_the_first_week_whose_usual_nights_all_keep_above_the_limit(limit_c):
    week = found(limit_c).first

    after = [usual_night(SHROPSHIRE, week + timedelta(days=n)).mean_c for n in range(7)]
    before = [usual_night(SHROPSHIRE, week - timedelta(days=n)).mean_c for n in range(1, 8)]
    assert week.weekday() == 0
    assert min(after) > limit_c >= min(before)


def test_the_tenderest_in_the_parcel_is_named():
    assert found(8.0).label == Species.COLEUS


def test_the_colder_end_decides():
    colder = replace(SHROPSHIRE, shift_k=-2.0)

    both_ways = {found(8.0, {1: SHROPSHIRE, 2: colder}), found(8.0, {1: colder, 2: SHROPSHIRE})}
    assert both_ways == {found(8.0, {1: colder, 2: colder})}
    assert found(8.0, {1: colder, 2: colder}).first > found(8.0).first


def test_where_nights_are_never_so_warm_no_week_is_named():
    assert found(15.0) == PostingReason(Topic.WARM_FROM, None, label=Species.COLEUS)


def test_what_is_held_by_a_spell_of_weather_alone_does_not_wait_for_warmth():
    assert found(1.0) is None


def test_nothing_is_said_where_the_usual_nights_of_an_end_are_not_known():
    assert found(8.0, {1: SHROPSHIRE}) is None


@pytest.mark.parametrize(
    ("ready", "answer"), [(MONDAY, PostingAnswer.WAIT), (date(2027, 5, 3), PostingAnswer.NOT_READY)]
)
def test_a_plan_without_a_day_begins_with_it(ready, answer):
    parcel = replace(COLEUS, lines=tuple(replace(one, ready_from=ready) for one in COLEUS.lines))
    chill = {n: an_outlook(n, means=3.0) for n in (1, 2)}

    plan = make_plan(facts([parcel], usual=USUAL, outlooks=chill), NOW).parcels[0]

    assert plan.answer is answer
    assert plan.reasons[0] == found(plan.warn_at_c, parcel=parcel)


def test_a_parcel_with_a_day_says_nothing_of_it():
    mild = {n: an_outlook(n, means=14.0) for n in (1, 2)}

    plan = make_plan(facts([COLEUS], usual=USUAL, outlooks=mild), NOW).parcels[0]

    assert plan.answer is PostingAnswer.POST
    assert Topic.WARM_FROM not in {one.about for one in plan.reasons}
