"""What is said beside the answer for a parcel that has waited long, and of its packing."""

from datetime import date, timedelta

import pytest

from exchange.domain.plan import make_plan
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.reasons import DayWord, PostingReason, Topic
from tests.builders.posting import MONDAY, NOW, a_line, a_parcel, an_outlook, facts

FROST = {n: an_outlook(n, means=-6) for n in (1, 2)}


def plan_one(parcel=None, **more):
    return make_plan(facts([parcel or a_parcel()], **more), NOW).parcels[0]


def said(plan, topic):
    return [one for one in plan.reasons if one.about is topic]


@pytest.mark.parametrize(("days", "is_asked"), [(13, False), (14, True), (15, True)])
def test_from_the_fourteenth_day_of_waiting_it_is_called_long(days, is_asked):
    since = MONDAY - timedelta(days=days)

    plan = plan_one(a_parcel(waiting_since=since), outlooks=FROST)

    expected = [PostingReason(Topic.LONG_WAIT, since, MONDAY, days)] if is_asked else []
    assert said(plan, Topic.LONG_WAIT) == expected


def test_a_parcel_that_was_never_said_to_wait_waits_since_it_was_ready():
    ready = date(2027, 3, 1)

    plan = plan_one(a_parcel(lines=(a_line(ready_from=ready),)), outlooks=FROST)

    assert [one.first for one in said(plan, Topic.LONG_WAIT)] == [ready]


def test_the_circle_says_how_long_is_long():
    parcel = a_parcel(waiting_since=MONDAY - timedelta(days=3))

    plans = [
        plan_one(parcel, outlooks=FROST, terms=PostingTerms(longest_wait=longest))
        for longest in (3, 4)
    ]

    assert [len(said(plan, Topic.LONG_WAIT)) for plan in plans] == [1, 0]


def test_the_best_day_is_offered_from_the_longest_wait_only():
    """Beyond two weeks the nights are a little milder, and still too cold."""
    nights = {n: an_outlook(n, means=[-6.0] * 17 + [-3.5]) for n in (1, 2)}

    near = said(plan_one(outlooks=nights), Topic.LEAST_RISKY)
    far = said(plan_one(outlooks=nights, terms=PostingTerms(longest_wait=21)), Topic.LEAST_RISKY)

    assert (near[0].first - MONDAY).days <= 14 < (far[0].first - MONDAY).days
    assert near[0].number > far[0].number


def test_where_only_a_far_day_is_good_the_best_in_reach_is_offered_beside_it():
    nights = {n: an_outlook(n, means=[-6.0] * 17 + [9.0]) for n in (1, 2)}

    plan = plan_one(outlooks=nights)

    assert plan.answer is PostingAnswer.POST
    assert (plan.day - MONDAY).days > 14
    assert (said(plan, Topic.LEAST_RISKY)[0].first - MONDAY).days <= 14


def test_a_day_that_can_no_longer_be_told_is_not_said_to_be_taken_by_others():
    today_only = {n: an_outlook(n, means=[9, 9, -6, -6, -6]) for n in (1, 2)}
    plan = plan_one(outlooks=today_only)

    assert plan.answer is PostingAnswer.WAIT
    assert said(plan, Topic.CROWDED) == []
    assert said(plan, DayWord.GOOD) == []
    tomorrow = MONDAY + timedelta(days=1)
    assert [one.first for one in said(plan, Topic.NO_GOOD_DAY)] == [tomorrow]
    assert plan.offered.first >= tomorrow


def packed_at(means, default="shoe_box"):
    """Give the packing at a low of these nights, and the warmer packing it names."""
    outlooks = {n: an_outlook(n, means=means, sd=0.4) for n in (1, 2)}
    plan = plan_one(outlooks=outlooks, terms=PostingTerms(default_packing=default))
    return plan.packing, [one.label for one in said(plan, Topic.WARMER_PACKING)]


def test_the_usual_packing_is_not_called_warmer_than_itself():
    assert packed_at(8.0) == ("shoe_box", [])


@pytest.mark.parametrize(
    ("usual", "taken"),
    [
        ("shoe_box", "box_in_box"),
        ("bubble_wrap", "box_in_box"),
        ("box_in_box", "box_in_box"),
        ("foam_box", "foam_box"),
    ],
)
def test_the_simplest_packing_that_is_warm_enough_is_taken_and_named_if_it_is_not_the_usual_one(
    usual, taken
):
    packing, warmer = packed_at(-0.5, default=usual)

    assert (packing, warmer) == (taken, [] if usual == taken else [taken])


def test_where_no_packing_is_warm_enough_the_parcel_waits_and_none_is_named():
    assert packed_at(-6.0)[1] == []


def test_what_an_older_plan_said_of_a_parcel_without_a_day_still_reads():
    assert PostingAnswer("no day yet") is PostingAnswer.NO_WAY
