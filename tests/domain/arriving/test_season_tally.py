"""The season's count: what was not heard of adds no plants, and every parcel counts once in each way of counting."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from exchange.domain.arriving.season_tally import (
    LONGEST_GAP,
    SentParcel,
    Tally,
    by_week,
    tally,
    tally_by,
)

MONDAY = date(2027, 4, 12)


def went(day=MONDAY, plants=3, alive=3, way="first class", packing="shoe_box"):
    return SentParcel(day, way, packing, plants, alive)


@st.composite
def parcels(draw):
    plants = draw(st.integers(1, 9))
    alive = draw(st.none() | st.integers(0, plants))
    day = MONDAY + timedelta(days=draw(st.integers(0, 250)))
    return went(day, plants, alive, draw(st.sampled_from(["first class", "by hand"])))


def test_a_parcel_nothing_was_heard_of_is_counted_without_its_plants():
    found = tally([went(plants=4, alive=3), went(plants=9, alive=None)])

    assert found == Tally(parcels=2, heard=1, plants=4, alive=3)
    assert found.lost == 1


@given(st.lists(parcels()))
def test_whatever_they_are_counted_by_the_sums_are_the_same(sent):
    whole = tally(sent)

    for key in (lambda one: one.way, lambda one: one.day.weekday(), lambda one: one.packing):
        parts = tally_by(sent, key).values()

        assert sum(one.parcels for one in parts) == whole.parcels == len(sent)
        assert sum(one.heard for one in parts) == whole.heard
        assert sum(one.alive for one in parts) == whole.alive
        assert sum(one.lost for one in parts) == whole.lost


@given(st.lists(parcels()))
def test_weeks_are_mondays_in_order_and_hold_every_parcel(sent):
    weeks = by_week(sent)

    assert [day for day, _one in weeks] == sorted({day for day, _one in weeks})
    assert {day.weekday() for day, _one in weeks} <= {0}
    assert sum(one.parcels for _day, one in weeks) == len(sent)


def test_a_short_gap_has_its_weeks_and_a_long_one_has_none():
    later = MONDAY + LONGEST_GAP
    much_later = later + LONGEST_GAP + timedelta(weeks=1)

    weeks = by_week([went(), went(later), went(much_later)])

    assert [day for day, one in weeks if one.parcels] == [MONDAY, later, much_later]
    assert [day for day, one in weeks if not one.parcels] == [
        MONDAY + timedelta(weeks=1),
        MONDAY + timedelta(weeks=2),
    ]
