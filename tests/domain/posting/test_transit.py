from datetime import date

import pytest

from exchange.domain.posting.transit import (
    NoOddsError,
    NoWorkingDayError,
    arrivals,
    came_on,
    chance_next_day,
    chance_over_rest,
    delivery_odds,
    expected_days,
    open_days,
    rest_days,
)
from tests.builders.posting import by_hand, first_class, second_class

MON, TUE, WED, THU, FRI = (date(2027, 4, 12 + n) for n in range(5))
EASTER = {date(2027, 3, 26): "Good Friday", date(2027, 3, 29): "Easter Monday"}


@pytest.mark.parametrize(
    ("posted", "chance"), [(MON, 0.0), (TUE, 0.0), (WED, 0.034), (THU, 0.077), (FRI, 0.225)]
)
def test_first_class_lies_over_sunday_as_the_published_odds_say(posted, chance):
    """Worked out from the regulator's published 77.5 / 92.3 / 96.6 % by the first, second, third day.

    Monday is zero here because the last weight stands for the fourth delivery day, a Friday.
    """
    coming = arrivals(first_class(), posted, {})
    assert chance_over_rest(coming, posted, {}) == pytest.approx(chance, abs=5e-4)


def test_a_parcel_posted_on_saturday_surely_lies_over_sunday():
    coming = arrivals(first_class(), date(2027, 4, 17), {})
    assert chance_over_rest(coming, date(2027, 4, 17), {}) == pytest.approx(1)
    assert chance_next_day(coming, date(2027, 4, 17)) == 0


def test_a_holiday_counts_as_a_day_of_rest_and_moves_the_delivery():
    thursday = date(2027, 3, 25)
    coming = arrivals(first_class(), thursday, EASTER)
    assert [one.day.day for one in coming] == [27, 30, 31, 1]
    assert chance_over_rest(coming, thursday, EASTER) == pytest.approx(1)


def test_answers_move_the_odds_from_the_published_ones():
    way = first_class(odds=(7.75, 1.48, 0.43, 0.34))
    odds = delivery_odds(way, (0, 10))
    assert odds[0] == pytest.approx(7.75 / 20)
    assert odds[1] == pytest.approx(11.48 / 20)
    assert sum(odds) == pytest.approx(1)


def test_an_answer_beyond_the_last_weight_counts_with_the_last():
    assert delivery_odds(first_class(odds=(1, 1)), (0, 0, 0, 2)) == pytest.approx((0.25, 0.75))


def test_a_rural_extra_day_moves_every_delivery_day_by_one():
    plain = arrivals(first_class(), MON, {})
    late = arrivals(first_class(), MON, {}, extra_day=True)
    assert late[0].day == plain[1].day
    assert [one.chance for one in late] == [one.chance for one in plain]


def test_second_class_is_walked_over_weekdays_only_where_it_says_so():
    way = second_class(delivery_weekdays=frozenset(range(5)))
    assert {one.day.weekday() for one in arrivals(way, WED, {})} <= set(range(5))


def test_by_hand_it_comes_the_same_day_without_odds():
    (one,) = arrivals(by_hand(), MON, {})
    assert (one.day, one.chance) == (MON, 1)


def test_expected_days_reach_to_the_day_by_which_nineteen_in_twenty_have_come():
    assert expected_days(arrivals(first_class(), MON, {})) == (TUE, THU)


def test_an_answer_is_counted_by_delivery_day_not_by_date():
    assert came_on(FRI, date(2027, 4, 19), first_class(), {}) == 1
    assert came_on(MON, TUE, first_class(), {}) == 0


def test_a_way_without_odds_or_days_is_refused_in_words():
    with pytest.raises(NoOddsError, match="No delivery odds"):
        delivery_odds(first_class(odds=()))
    with pytest.raises(NoWorkingDayError):
        next(open_days(MON, frozenset(), {}))


def test_rest_days_are_sundays_and_closures():
    found = rest_days(date(2027, 3, 25), date(2027, 3, 30), EASTER)
    assert [day.day for day in found] == [26, 28, 29]
