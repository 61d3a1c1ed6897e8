"""The packaged ways against the regulator's published results."""

import pytest

from exchange.domain.posting.way import Carriage
from exchange.reference.ways import ways, ways_of


def within(way, days):
    return sum(way.odds[:days]) / sum(way.odds)


def test_first_class_is_as_the_regulator_published():
    # Ofcom: 77.5 % next day and 96.6 % in three (Q3 2025/26), 92.3 % in two (2024/25)
    first = next(way for way in ways() if way.name == "First class")

    assert within(first, 1) == pytest.approx(0.775, abs=0.0005)
    assert within(first, 2) == pytest.approx(0.923, abs=0.0005)
    assert within(first, 3) == pytest.approx(0.966, abs=0.0005)


def test_second_class_is_as_the_regulator_published():
    # Ofcom, Q3 2025/26: 91.6 % in three days, 98.4 % in five
    second = next(way for way in ways() if way.name == "Second class")

    assert within(second, 3) == pytest.approx(0.916, abs=0.0005)
    assert within(second, 5) == pytest.approx(0.984, abs=0.0005)
    assert second.delivery_weekdays == frozenset(range(5))


def test_odds_without_a_published_result_are_marked_as_judgement():
    for way in ways():
        assert way.source
        if way.name not in ("First class", "Second class"):
            assert way.source.startswith("judgement")


def test_everywhere_parcels_can_go_by_hand():
    for country in ("GB", "IE", "NZ"):
        by_hand = [way for way in ways_of(country) if way.carriage is Carriage.BY_HAND]
        assert [way.odds for way in by_hand] == [()]


def test_a_way_keeps_its_number():
    assert {way.name: way.id for way in ways_of("GB")} == {
        "First class": 1,
        "Second class": 2,
        "Tracked": 3,
        "By hand": 4,
    }
