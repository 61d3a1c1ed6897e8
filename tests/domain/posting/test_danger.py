"""What endangers a day in a word: frost is what is likely, cold what may come."""

from datetime import timedelta

import pytest

from exchange.domain.growing.batch import Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.plan import make_plan
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.danger import FREEZING_C, danger
from exchange.domain.posting.options import cases
from exchange.domain.posting.packed import weigh_packed
from exchange.domain.posting.planned_days import planned_days
from exchange.domain.posting.reasons import DayWord
from exchange.words.kernel.dates import degrees
from tests.builders.posting import (
    EVE,
    MONDAY,
    a_line,
    a_parcel,
    an_outlook,
    facts,
    first_class,
    second_class,
)

COLDER = {DayWord.COLDER_HERE, DayWord.COLDER_THERE}
CAREFUL = PostingTerms(loss_limit=0.0005)
"""What is cold but no frost stops a day too."""


def word_on_monday(sender=8.0, receiver=8.0, sd=0.5, **more):
    outlooks = {1: an_outlook(1, means=sender, sd=sd), 2: an_outlook(2, means=receiver, sd=sd)}
    plan = make_plan(facts(outlooks=outlooks, terms=CAREFUL, **more), EVE).parcels[0]
    return next(one.word for one in plan.strip if one.day == MONDAY)


@pytest.mark.parametrize(
    ("sender", "receiver", "word"),
    [
        ([8, -9, 8], 8.0, DayWord.FROST_HERE),
        ([8, FREEZING_C, 8], 8.0, DayWord.FROST_HERE),
        ([8, FREEZING_C + 0.01, 8], 8.0, DayWord.COLD_HERE),
        (8.0, [8, -9, -9, 8], DayWord.FROST_THERE),
        (8.0, [8, FREEZING_C, 8], DayWord.FROST_THERE),
        (8.0, [8, FREEZING_C + 0.01, 8], DayWord.COLD_THERE),
    ],
)
def test_frost_is_said_only_where_the_likely_low_prints_as_0_degrees_or_less(
    sender, receiver, word
):
    assert word_on_monday(sender, receiver) is word
    assert degrees(FREEZING_C).startswith("0")
    assert degrees(FREEZING_C + 0.01).startswith("1")


def test_a_frost_that_is_only_one_of_the_futures_is_called_cold():
    """A likely low of 5 degrees, and 1 night in 10 with frost: that is what its chance of loss says."""
    assert word_on_monday([12, 5, 12], 12.0, sd=4.5) is DayWord.COLD_HERE
    assert word_on_monday(12.0, [12, 5, 12], sd=4.5) is DayWord.COLD_THERE


TENDER = a_parcel(1, lines=(a_line(1, raised=Raised.IN_HEAT),))
"""Hurt from 3.8 degrees down."""


@pytest.mark.parametrize(
    ("kind", "word"),
    [
        (ShelterKind.COLD, DayWord.FROST_THERE),
        (ShelterKind.FROST_FREE, DayWord.COLD_THERE),
        (ShelterKind.HEATED, DayWord.RISKY),
    ],
)
def test_nights_after_it_has_come_count_as_cold_as_its_shelter_is(kind, word):
    """It comes on Tuesday, the frost on Wednesday; under 3 degrees a frost-free house does not fall."""
    shelters = (Shelter(2, kind),)

    assert word_on_monday(8.0, [8, 8, 8, -9], shelters=shelters, parcels=[TENDER]) is word


def test_of_several_kinds_in_a_parcel_the_tenderest_counts():
    """A night of 6 degrees: nothing to the dahlia alone, cold to the coleus beside it."""
    dahlia, coleus = a_line(1), a_line(2, species=Species.COLEUS)

    alone = word_on_monday([12, 6, 12], 12.0, parcels=[a_parcel(1, lines=(dahlia,))])
    both = word_on_monday([12, 6, 12], 12.0, parcels=[a_parcel(1, lines=(dahlia, coleus))])

    assert alone is not DayWord.COLD_HERE
    assert both is DayWord.COLD_HERE


@pytest.mark.parametrize(
    ("receiver", "is_hot"), [([8, 8, 20, 8], True), ([8, 20, 8], False), ([8, 8, 17, 8], False)]
)
def test_heat_is_that_of_the_day_on_which_it_comes(receiver, is_hot):
    """Posted on Monday it comes on Tuesday; days are 7 degrees warmer than their nights, and 25 hurt."""
    assert (word_on_monday(8.0, receiver) is DayWord.HEAT) == is_hot


def weighed(sender, receiver, way=None, between=12.0):
    """Give the planned days, the parcel and its options by day, by one way."""
    means = {1: sender, 2: receiver, 3: between}
    around = facts(
        outlooks={place: an_outlook(place, means=each, sd=0.5) for place, each in means.items()},
        ways={1: way or first_class()},
    )
    planned = planned_days(cases(around.parcels, around, EVE), around)
    (case,) = planned.cases
    return planned, case, {one.day: one for one in weigh_packed(planned)[case.parcel.id]}


@pytest.mark.parametrize("frost", range(1, 5))
def test_on_a_slow_way_the_receiver_s_first_night_does_not_count(frost):
    """Second class comes on the third day most likely: the night of posting it lies at the sender's."""
    receiver = [12.0] * 6
    receiver[frost] = -9.0
    planned, case, by_day = weighed(12.0, receiver, second_class(1))

    assert (danger(planned, case, by_day[MONDAY]) is DayWord.FROST_THERE) == (frost in (2, 3))


@pytest.mark.parametrize(
    ("between", "word"),
    [
        ([12, 12, -6, 12], DayWord.COLD_DEPOT),
        ([12, 12, 0, 12], DayWord.COLD_DEPOT),
        ([12, -6, 12, 12], DayWord.RISKY),
        (12.0, DayWord.RISKY),
    ],
)
def test_a_depot_between_is_named_where_it_is_colder_than_both_ends(between, word):
    """It lies there from the second night on; depots are 2 degrees warmer than the air outside."""
    planned, case, by_day = weighed(
        12.0, 12.0, first_class(via_place_id=3, depot_offset_c=2.0), between
    )

    assert danger(planned, case, by_day[MONDAY]) is word


def test_a_depot_as_warm_as_the_plants_bear_is_not_named():
    """1 degree outside is 5 in a depot 4 degrees warmer, and a rooted dahlia raised cool bears 2.8."""
    way = first_class(via_place_id=3, depot_offset_c=4.0)
    planned, case, by_day = weighed(12.0, 12.0, way, [12, 12, 1, 12])

    assert danger(planned, case, by_day[MONDAY]) is DayWord.RISKY


@pytest.mark.parametrize(
    ("sender", "receiver", "word"),
    [
        ([12, 4.5, 12], 12.0, DayWord.COLDER_HERE),
        (12.0, [12, 4.5, 12], DayWord.COLDER_THERE),
        ([12, 4.5, 12], [12, 4.5, 12], DayWord.COLDER_HERE),
        (12.0, 12.0, DayWord.RISKY),
        ([12, 2.0, 12], 12.0, DayWord.COLD_HERE),
    ],
)
def test_a_day_that_hurts_nothing_by_its_cold_is_colder_than_the_posting_day_or_too_slow(
    sender, receiver, word
):
    """From 2.8 degrees down a rooted dahlia raised cool is hurt; Tuesday is the posting day."""
    planned, case, by_day = weighed(sender, receiver)
    monday, tuesday = by_day[MONDAY], by_day[MONDAY + timedelta(days=1)]

    assert danger(planned, case, monday, tuesday) is word
    assert danger(planned, case, tuesday, tuesday) is DayWord.RISKY
    assert (danger(planned, case, monday) is word) == (word not in COLDER)
