"""Mornings of the demo: announced days move for the weather alone, never for want of it, nor a person's."""

import pytest

from tests.mornings import WEATHER, mornings, said


@pytest.fixture(scope="module")
def week(tmp_path_factory):
    return tuple(mornings(tmp_path_factory.mktemp("mornings"), 7, seed=1))


def test_no_day_moves_on_a_morning_on_which_less_is_known(week):
    dark = [one for number, one in enumerate(week) if number in WEATHER]

    assert {one.weather for one in dark} == {"no forecast", "older forecast"}
    assert all(one.announced for one in dark)
    assert [code for one in dark for code in one.moves] == []


def test_days_move_once_a_cold_spell_is_seen_and_each_says_why(week):
    moves = week[-1].moves

    assert moves
    assert all("in\u00a0100" in sentence for sentence in moves.values())


def test_the_day_put_by_hand_stands_in_frost_and_is_asked_about(week):
    (code,) = week[-1].questions

    assert code not in week[-1].moves
    assert week[-1].announced[code] == week[-2].announced[code]
    assert "You chose that day" in week[-1].questions[code]


def test_every_day_is_announced_at_most_four_days_ahead_and_before_its_own(week):
    for one in week:
        for code in one.new:
            assert 1 <= (one.announced[code] - one.day).days <= 4, said(one)
