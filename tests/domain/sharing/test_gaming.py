"""What a household gains by tricks, counted over random circles; docs/decisions/0012-tricks-in-a-share-out.md has the counts."""

import os

import pytest

from tests.builders.gaming import TRICKS, gain

CIRCLES = int(60 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


def gains(trick):
    found = [gain(number, trick) for number in range(CIRCLES)]
    return [one for one in found if one is not None]


def test_padding_a_list_with_claims_nobody_can_meet_changes_nothing_at_all():
    assert set(gains("padding")) == {0}


@pytest.mark.parametrize("trick", ["splitting a claim", "inflating"])
def test_splitting_or_inflating_brings_no_more_than_it_costs_over_many_circles(trick):
    found = gains(trick)
    won, lost = sum(one > 0 for one in found), sum(one < 0 for one in found)
    # Both only shuffle the draw and the order of equals, so that luck falls both ways.
    assert won <= lost + 0.1 * len(found)


def test_the_four_tricks_are_all_played():
    assert all(any(gain(number, trick) is not None for number in range(5)) for trick in TRICKS)
