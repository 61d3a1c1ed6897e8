"""Nights, pots, labels and claims are drawn as shapes that can be counted."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.web.frame.chart_figure import number
from exchange.web.growing.chart_hundred import draw_hundred
from exchange.web.posting.chart_room import RoomWeek, draw_room
from exchange.web.sharing.chart_outcomes import Outcome, draw_bar
from exchange.web.weather.chart_nights import NightBar, PotsStand, draw_nights
from tests.builders.charts import words


def shapes(path: str) -> int:
    return path.count("M")


def a_night(low=5.0, spread=2.0) -> NightBar:
    return NightBar("Sat", "1", low, (low - spread, low + spread))


def test_a_night_is_of_frost_when_its_bar_reaches_below_zero():
    view = draw_nights([a_night(5), a_night(2), a_night(1)], words())

    assert [bar.is_frost for bar in view.wide.bars] == [False, False, True]
    assert view.has_frost


def test_a_colder_night_hangs_lower_and_lies_farther_left():
    view = draw_nights([a_night(5), a_night(-5)], words())

    assert view.wide.bars[1].at > view.wide.zero > view.wide.bars[0].at
    assert view.narrow.bars[1].at < view.narrow.zero < view.narrow.bars[0].at


@given(st.lists(st.floats(-25, 25), min_size=1, max_size=16), st.floats(0, 6))
def test_every_night_stays_within_both_drawings(lows, spread):
    view = draw_nights([a_night(low, spread) for low in lows], words())

    assert len(view.wide.bars) == len(view.narrow.bars) == len(lows)
    assert all(0 <= bar.end <= bar.start <= view.wide.height for bar in view.wide.bars)
    assert all(0 <= bar.start <= bar.end <= view.narrow.width for bar in view.narrow.bars)


def test_where_the_pots_stand_is_one_bracket_over_its_nights():
    five = PotsStand(5, "In the frost-free greenhouse, all five nights")
    view = draw_nights([a_night()] * 5, words(), (five,))

    (bracket,) = view.wide.brackets
    assert bracket.words == five.words
    assert bracket.start < view.wide.bars[0].across
    assert bracket.end > view.wide.bars[4].across
    assert view.standing_fits


def test_words_wider_than_their_bracket_are_said_under_the_drawing():
    two = (
        PotsStand(1, "In the frost-free greenhouse, Tue 13 April"),
        PotsStand(4, "Indoors, rest"),
    )
    view = draw_nights([a_night()] * 5, words(), two)

    first, second = view.wide.brackets
    assert first.end < second.start
    assert (first.words, second.words) == ("", "Indoors, rest")
    assert not view.standing_fits
    assert view.standing == tuple(one.words for one in two)


def test_without_a_night_there_is_nothing_to_draw():
    with pytest.raises(ValueError, match="a night"):
        draw_nights([], words())


@given(st.integers(0, 100))
def test_a_hundred_labels_are_a_hundred(lost):
    view = draw_hundred(lost, "", "", words())

    for drawing in (view.wide, view.narrow):
        assert shapes(drawing.lost) == lost
        assert shapes(drawing.kept) == 100 - lost
        assert shapes(drawing.crosses) == 2 * lost


@pytest.mark.parametrize("lost", [-1, 101])
def test_no_other_number_of_a_hundred_is_lost(lost):
    with pytest.raises(ValueError, match="hundred"):
        draw_hundred(lost, "", "", words())


@given(st.integers(0, 30), st.integers(0, 30), st.integers(0, 40))
def test_every_pot_is_drawn_in_its_kind(standing, kept, places):
    week = RoomWeek("3 May", standing, kept, places)

    view = draw_room([week], words())
    each = view.pots_each
    pots = view.wide.shelves[0].pots

    drawn = shapes(pots.standing) + shapes(pots.kept) + shapes(pots.over)
    assert drawn == -(-(standing + kept) // each)
    if each == 1:
        assert shapes(pots.over) == max(standing + kept - places, 0)
        assert shapes(pots.free) == max(places - standing - kept, 0)


def test_pots_without_a_place_are_counted_apart():
    view = draw_room([RoomWeek("3 May", 12, 10, 20)], words())
    pots = view.narrow.shelves[0].pots

    assert (shapes(pots.standing), shapes(pots.kept), shapes(pots.over)) == (12, 8, 2)
    assert view.has_over


def test_room_without_limit_has_neither_free_places_nor_pots_without_one():
    view = draw_room([RoomWeek("3 May", 12, 3, None)], words())
    pots = view.wide.shelves[0].pots

    assert (shapes(pots.standing), shapes(pots.kept)) == (12, 3)
    assert (pots.free, pots.over) == ("", "")


def test_where_there_are_many_pots_one_drawn_stands_for_several():
    view = draw_room([RoomWeek("3 May", 200, 0, 240)], words())

    assert view.pots_each > 1
    assert shapes(view.wide.shelves[0].pots.standing) == -(-200 // view.pots_each)


def test_every_claim_has_one_sign():
    outcomes = [Outcome("given", "met", 41, "good"), Outcome("open", "nobody offers it", 4)]

    view = draw_bar(outcomes, words())

    for drawing in (view.wide, view.narrow):
        assert shapes(drawing.runs[0].filled) == 41
        assert shapes(drawing.runs[1].drawn) == 4


def test_no_claim_leaves_an_empty_bar():
    assert draw_bar([], words()).wide.runs == ()


@pytest.mark.parametrize(
    ("value", "written"), [(3.0, "3"), (-0.04, "0"), (2.25, "2.2"), (-1.5, "-1.5"), (100, "100")]
)
def test_a_path_writes_its_numbers_short(value, written):
    assert number(value) == written
