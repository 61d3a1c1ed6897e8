"""A depot between both ends may be the coldest of all: it stops a day, and is named for it."""

from dataclasses import replace
from datetime import date

from exchange.domain.plan import make_plan
from exchange.domain.posting.reasons import DayWord
from exchange.domain.posting.route_point import RoutePoint
from exchange.words.posting.posting_days import reasons
from tests.builders.posting import EVE, MONDAY, an_outlook, facts, first_class

HUB = -1
COLD_THEN_MILD = [8, *[-9] * 5, *[8] * 9]
"""Cold from Tuesday's night to Saturday's, at the depot alone."""


def plan_one(**more):
    return make_plan(facts(None, **more), EVE).parcels[0]


def weather(**more):
    mild = {n: an_outlook(n) for n in (1, 2)}
    return mild | {HUB: an_outlook(HUB, **more)}


def through(**more):
    return {1: first_class(via_place_id=HUB, **more)}


def words(plan):
    return {day.day: day.word for day in plan.strip}


def a_point(number=1):
    return RoutePoint(number, 2, "Shap", "Cumbria", "GB", "ENG", 54.532, -2.675, "Europe/London")


def test_its_number_is_never_a_places():
    assert all(a_point(number).number < 0 for number in (1, 2, 900))


def test_a_cold_depot_stops_a_day_both_ends_would_allow():
    cold = weather(means=COLD_THEN_MILD, sd=0.5)

    straight = plan_one(outlooks=cold, ways={1: first_class()})
    routed = plan_one(outlooks=cold, ways=through())

    assert straight.day == MONDAY
    assert words(straight)[MONDAY] is DayWord.POST
    assert words(routed)[MONDAY] is DayWord.COLD_DEPOT
    assert routed.day > MONDAY
    assert any("cold in the depot on the way" in sentence for sentence in reasons(routed))


def test_a_mild_depot_changes_nothing():
    mild = weather()

    assert plan_one(outlooks=mild, ways=through()).day == MONDAY
    assert DayWord.COLD_DEPOT not in words(plan_one(outlooks=mild, ways=through())).values()


def test_the_first_night_is_the_senders():
    """What is handed over on Monday reaches the depot between on Tuesday: a frost before is past."""
    early = weather(means=[-9, *[8] * 14], sd=0.5)

    assert plan_one(outlooks=early, ways=through()).day == MONDAY


def test_a_parcel_that_always_comes_the_next_day_never_lies_there():
    cold = weather(means=-9, sd=0.5)

    assert plan_one(outlooks=cold, ways=through(odds=(100.0,))).day == MONDAY


def test_a_frost_at_an_end_is_still_named_for_that_end():
    hard = {2: an_outlook(2, means=-12, sd=0.5)}
    plan = plan_one(outlooks=weather(means=2) | hard, ways=through())

    assert words(plan)[MONDAY] is DayWord.FROST_THERE


def test_without_nights_of_its_own_the_receivers_stand_for_them():
    mild = {n: an_outlook(n) for n in (1, 2)}
    nothing = replace(an_outlook(HUB), nights=())

    plain = plan_one(outlooks=mild, ways={1: first_class()})
    assert plan_one(outlooks=mild, ways=through()).strip == plain.strip
    assert plan_one(outlooks=mild | {HUB: nothing}, ways=through()).strip == plain.strip


def test_days_beyond_its_known_nights_are_not_known():
    short = weather(nights=4)
    plan = plan_one(outlooks=short, ways=through())

    assert words(plan)[date(2027, 4, 12)] is DayWord.UNKNOWN
    assert words(plan)[MONDAY] is DayWord.POST
