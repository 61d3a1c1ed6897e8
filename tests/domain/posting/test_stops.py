"""What stops a parcel on a day: its windows, its sender, the way, and what awaits it at the other end."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from exchange.domain.circle.away import Away
from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.growing.batch import Material
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.plan import make_plan
from exchange.domain.posting.circumstances import PostingDays, PostingTerms
from exchange.domain.posting.options import cases
from exchange.domain.posting.reasons import DayWord, Stop, Topic
from exchange.domain.posting.stops import arrival_stop, day_stop, loss_limit, way_stop
from exchange.domain.posting.transit import ArrivalChance
from tests.builders.posting import (
    EVE,
    MONDAY,
    NOW,
    a_household,
    a_line,
    a_parcel,
    a_place,
    by_hand,
    facts,
    first_class,
    second_class,
)

THURSDAY, FRIDAY = 3, 4
WEDNESDAY = MONDAY + timedelta(days=2)
NEXT_DAY = (ArrivalChance(date(2027, 4, 6), 1.0),)
ANY_DAY = PostingTerms(
    posting_days={
        kind: PostingDays(quick=frozenset(range(7)), slow=frozenset(range(7))) for kind in Material
    }
)
"""Terms that leave the weekday to the odds alone."""


def plan_one(parcels=None, **more):
    return make_plan(facts(parcels, **more), EVE).parcels[0]


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


def a_case(parcel=None, now=NOW, **more):
    """Lay out one parcel as planning does, at the sender's hour."""
    known = facts(**more)
    return cases((parcel or a_parcel(),), known, now)[0], known


def by_day(line=None, now=NOW, **more):
    """Give what stops a parcel of one line on each of the next days."""
    case, known = a_case(a_parcel(lines=(line or a_line(),)), now, **more)
    return lambda day: day_stop(case, day, known)


def test_a_day_that_is_over_is_past():
    stop = by_day()

    assert stop(MONDAY - timedelta(days=1)) == Stop(DayWord.PAST)
    assert stop(MONDAY) is None


def test_a_parcel_goes_from_the_day_its_last_line_is_ready_to_the_day_its_first_is_too_late():
    early = a_line(1, ready_from=date(2027, 4, 6), send_by=date(2027, 4, 14))
    late = a_line(2, ready_from=date(2027, 4, 8), send_by=date(2027, 4, 20))
    case, known = a_case(a_parcel(lines=(early, late)))

    stops = [day_stop(case, date(2027, 4, day), known) for day in (7, 8, 14, 15)]

    assert stops == [
        Stop(DayWord.NOT_READY, until=date(2027, 4, 8)),
        None,
        None,
        Stop(DayWord.TOO_LATE, until=date(2027, 4, 14)),
    ]


@pytest.mark.parametrize(("minute", "goes"), [(59, True), (0, True), (1, False)])
def test_a_parcel_goes_today_up_to_the_very_minute_the_counter_closes(minute, goes):
    # four o'clock at the sender's in summer is three by universal time
    hour = 14 if minute == 59 else 15
    case, known = a_case(now=datetime(2027, 4, 5, hour, minute, tzinfo=UTC))

    stop = way_stop(case, MONDAY, first_class(cut_off=time(16)), known)

    assert stop == (None if goes else Stop(DayWord.PAST))


def test_on_a_later_day_the_hour_does_not_matter():
    case, known = a_case(now=datetime(2027, 4, 5, 20, tzinfo=UTC))

    assert way_stop(case, MONDAY + timedelta(days=1), first_class(), known) is None


def test_a_way_takes_nothing_in_on_a_day_without_a_counter():
    case, known = a_case()
    closed_on_mondays = first_class(hand_over_weekdays=frozenset({1, 2}))

    assert way_stop(case, MONDAY, closed_on_mondays, known) == Stop(DayWord.NO_POST)


@pytest.mark.parametrize(
    ("material", "way", "stops"),
    [
        (Material.ROOTED, first_class(), False),
        (Material.ROOTED, second_class(), True),
        (Material.SEED, second_class(), False),
    ],
)
def test_on_a_wednesday_a_rooted_cutting_goes_by_a_quick_way_only_and_seed_by_any(
    material, way, stops
):
    case, known = a_case(a_parcel(lines=(a_line(material=material),)))

    stop = way_stop(case, WEDNESDAY, way, known)

    assert stop == (Stop(DayWord.MAY_WAIT) if stops else None)


@pytest.mark.parametrize(("free", "fits"), [(3, True), (2, False), (0, False)])
def test_a_place_whose_room_the_parcel_just_fills_is_not_full(free, fits):
    case, known = a_case(
        a_parcel(lines=(a_line(count=3),)),
        shelters=(Shelter(2, ShelterKind.HEATED, room_pots=5),),
        room_taken={2: {date(2027, 1, 1): 5 - free}},
    )

    stop = arrival_stop(case, first_class(), MONDAY, NEXT_DAY, known)

    assert stop == (None if fits else Stop(DayWord.ROOM_FULL, number=free))


def test_room_that_is_over_full_already_counts_as_none_and_never_as_less():
    case, known = a_case(
        shelters=(Shelter(2, ShelterKind.HEATED, room_pots=5),),
        room_taken={2: {date(2027, 1, 1): 7}},
    )

    stop = arrival_stop(case, first_class(), MONDAY, NEXT_DAY, known)

    assert stop == Stop(DayWord.ROOM_FULL, number=0)


@pytest.mark.parametrize(
    ("first", "last", "stops"),
    [(6, 6, True), (5, 5, False), (7, 9, False), (1, 6, True), (6, 20, True)],
)
def test_a_receiver_is_away_for_a_parcel_that_may_come_on_one_of_their_days(first, last, stops):
    away = Away(2, date(2027, 4, first), date(2027, 4, last))
    case, known = a_case(away=(away,))

    stop = arrival_stop(case, first_class(), MONDAY, NEXT_DAY, known)

    assert stop == (Stop(DayWord.AWAY, until=away.last) if stops else None)


@pytest.mark.parametrize(("limit", "stops"), [(0.25, False), (0.24, True)])
def test_just_the_chance_agreed_on_of_lying_over_a_sunday_is_let_pass(limit, stops):
    case, known = a_case(terms=PostingTerms(rest_limit=limit))
    friday = date(2027, 4, 9)
    coming = (ArrivalChance(date(2027, 4, 10), 0.75), ArrivalChance(date(2027, 4, 12), 0.25))

    stop = arrival_stop(case, first_class(), friday, coming, known)

    assert stop == (Stop(DayWord.MAY_WAIT, number=0.25) if stops else None)


def test_what_is_carried_by_hand_over_a_sunday_lies_in_no_depot():
    case, known = a_case()
    coming = (ArrivalChance(date(2027, 4, 13), 1.0),)

    assert arrival_stop(case, by_hand(), date(2027, 4, 9), coming, known) is None


def test_one_line_that_must_not_be_lost_lowers_the_chance_at_which_a_parcel_waits():
    precious = a_parcel(lines=(a_line(1, must_not_be_lost=True), a_line(2)))

    limits = [loss_limit(one, facts()) for one in (a_parcel(), precious)]

    assert limits == [PostingTerms().loss_limit, PostingTerms().loss_limit_kept]
