"""What stops a parcel on a day: who is away for what, and a likely rest day in the depot."""

from datetime import date, timedelta

import pytest

from exchange.domain.circle.away import Away
from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.growing.batch import Material
from exchange.domain.plan import make_plan
from exchange.domain.posting.reasons import DayWord, Topic
from exchange.domain.posting.terms import PostingDays, PostingTerms
from tests.builders.posting import (
    MONDAY,
    NOW,
    a_household,
    a_line,
    a_parcel,
    a_place,
    by_hand,
    facts,
    first_class,
)

THURSDAY, FRIDAY = 3, 4
ANY_DAY = PostingTerms(
    posting_days={
        kind: PostingDays(quick=frozenset(range(7)), slow=frozenset(range(7))) for kind in Material
    }
)
"""Terms that leave the weekday to the odds alone."""


def plan_one(parcels=None, **more):
    return make_plan(facts(parcels, **more), NOW).parcels[0]


def first_word(plan, weekday):
    return next(one.word for one in plan.strip if one.day.weekday() == weekday)


def only_on(weekday):
    return {1: a_household(1, posting_weekdays=frozenset({weekday})), 2: a_household(2)}


@pytest.mark.parametrize(
    ("household", "more"),
    [(2, {"cannot_receive": False}), (1, {"cannot_post": False})],
)
def test_who_can_still_do_their_part_is_not_away_for_it(household, more):
    plan = plan_one(away=(Away(household, MONDAY, MONDAY + timedelta(days=9), **more),))

    assert plan.day == MONDAY


@pytest.mark.parametrize("weekday", [THURSDAY, FRIDAY])
def test_green_stock_does_not_go_where_it_likely_lies_over_sunday(weekday):
    plan = plan_one(terms=ANY_DAY, households=only_on(weekday))

    # 7.7 of 100 posted on a Thursday lie over Sunday, 22.5 of those of a Friday
    assert (first_word(plan, weekday) is DayWord.MAY_WAIT) == (weekday == FRIDAY)
    assert (plan.day is None) == (weekday == FRIDAY)


def test_tubers_may_lie_over_sunday():
    tubers = a_parcel(lines=(a_line(material=Material.POT_TUBER),))

    plan = plan_one([tubers], terms=ANY_DAY, households=only_on(FRIDAY))

    assert plan.day == date(2027, 4, 9)


def test_by_hand_nothing_lies_in_a_depot():
    carried = a_parcel(chosen_way_id=3)

    plan = plan_one([carried], ways={3: by_hand()}, terms=ANY_DAY, households=only_on(FRIDAY))

    assert plan.day == date(2027, 4, 9)


def over_border(sender, receiver, passage):
    """Plan a parcel between two places over a border of one row."""
    ends = zip((1, 2), (sender, receiver), strict=True)
    places = {
        number: a_place(number, country=country, subdivision=part)
        for number, (country, part) in ends
    }
    way = {"country": sender[0], "hand_over_weekdays": frozenset(range(7))}
    row = BorderRow("*", "*", passage, "The usual caution.", "the plant-health service")
    return plan_one(places=places, ways={1: first_class(**way)}, terms=ANY_DAY, borders=(row,))


def test_a_blocked_border_stops_every_day_and_names_whom_to_ask():
    plan = over_border(("NL", ""), ("GB", "ENG"), Passage.BLOCKED)

    assert plan.day is None
    assert {(one.word, one.label) for one in plan.strip} == {
        (DayWord.BORDER, "the plant-health service")
    }


def test_a_noted_border_is_named_beside_the_posting_day():
    plan = over_border(("NL", ""), ("IE", ""), Passage.NOTED)

    assert plan.day == MONDAY
    assert Topic.NOTED_BORDER in {reason.about for reason in plan.reasons}


def test_within_one_area_no_row_for_other_areas_stops_a_parcel():
    assert over_border(("GB", "ENG"), ("GB", "SCT"), Passage.BLOCKED).day == MONDAY


def test_two_places_of_unknown_state_may_lie_in_two_states():
    """Between states a parcel is usually stopped, so that not knowing the states is no leave to post.

    Once both are known to lie in one state, no border lies between.
    """
    assert over_border(("US", ""), ("US", ""), Passage.BLOCKED).day is None
    assert over_border(("US", "OR"), ("US", "OR"), Passage.BLOCKED).day == MONDAY
