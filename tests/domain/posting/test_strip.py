"""The days of the strip: the posting day and the others by one rule, each with what endangers it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.domain.plan import make_plan
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.options import Option
from exchange.domain.posting.packing import packing
from exchange.domain.posting.reasons import DayNote, DayWord, Stop
from exchange.domain.posting.strip import best_of_day
from tests.builders.posting import EVE, MONDAY, NOW, an_outlook, facts, first_class

TUESDAY = MONDAY + timedelta(days=1)


def plan_of(now=EVE, **more):
    return make_plan(facts(**more), now).parcels[0]


def weather(sender=8.0, receiver=8.0, sd=0.5):
    return {1: an_outlook(1, means=sender, sd=sd), 2: an_outlook(2, means=receiver, sd=sd)}


def word_on(day, **more):
    return next(one.word for one in plan_of(**more).strip if one.day == day)


def test_a_day_as_good_as_the_posting_day_is_good():
    plan = plan_of(outlooks=weather(12.0, 12.0))

    assert plan.day == MONDAY
    assert {one.word for one in plan.strip if one.day == TUESDAY} == {DayWord.GOOD}


def test_an_earlier_day_within_the_limit_that_is_worse_says_what_endangers_it():
    colder = weather([12, 1.0, 12], 12.0)
    loose = PostingTerms(loss_limit=0.9, waiting_price=0.0, announced_gain=0.0)
    plan = plan_of(NOW, outlooks=colder, terms=loose)

    chosen = next(one for one in plan.strip if one.chosen)
    worse = [one for one in plan.strip if one.loss is not None and one.loss > chosen.loss + 1e-9]
    assert {one.word for one in worse} & {DayWord.COLD_HERE, DayWord.COLDER_HERE}
    assert not {one.word for one in worse} & {DayWord.GOOD, DayWord.POST}


def mild_later(price):
    return plan_of(
        outlooks=weather([8, *[0.0] * 6, *[14.0] * 20], [8, *[0.0] * 6, *[14.0] * 20]),
        terms=PostingTerms(loss_limit=0.9, waiting_price=price),
    )


def test_a_posting_day_before_a_safer_one_says_that_waiting_costs_more():
    plan = mild_later(price=0.5)

    chosen = next(one for one in plan.strip if one.chosen)
    assert chosen.day == MONDAY
    assert any(
        one.loss is not None and round(one.loss * 100) < round(chosen.loss * 100)
        for one in plan.strip
    )
    assert chosen.note is DayNote.WAITING_COSTS_MORE


def test_a_posting_day_without_a_safer_one_says_nothing():
    chosen = next(one for one in plan_of(outlooks=weather(12.0, 12.0)).strip if one.chosen)

    assert chosen.note is DayNote.NONE


def test_only_the_posting_day_has_a_note():
    assert {one.note for one in mild_later(price=0.5).strip if not one.chosen} == {DayNote.NONE}


@pytest.mark.parametrize("word", [DayWord.ONE_A_DAY, DayWord.DAY_FULL])
def test_a_day_taken_by_other_parcels_says_so_and_not_that_another_way_loses_more(word):
    slower = replace(first_class(), id=2)
    quick = Option(1, MONDAY, 0, first_class(), (), packing("shoe_box"), 0.01, 0.01, 5, 4)
    taken = replace(quick, stop=Stop(word))
    colder = replace(quick, way=slower, loss=0.06, stop=Stop(DayWord.COLD_THERE, number=0.06))
    shut = replace(quick, way=slower, stop=Stop(DayWord.OWN_DAYS))

    assert best_of_day([colder, taken, shut]) is taken
    assert best_of_day([colder, shut]) is colder
    assert best_of_day([taken, replace(colder, stop=None)]).stop is None
