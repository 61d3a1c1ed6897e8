import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.words.kernel.phrase import NBSP
from exchange.words.posting.ways import cut_off, in_hundred, odds, postage

WEIGHTS = st.lists(st.floats(0, 1e4), min_size=1, max_size=6).filter(lambda all_: sum(all_) > 1e-3)


@given(WEIGHTS)
def test_shares_of_a_hundred_add_up_and_stay_within_one_of_the_exact(weights):
    shares = in_hundred(weights)

    assert sum(shares) == 100
    exact = [100 * one / sum(weights) for one in weights]
    assert all(abs(a - b) < 1 + 1e-5 for a, b in zip(shares, exact, strict=True))


def test_the_largest_remainder_is_rounded_up_and_of_equal_ones_the_first():
    assert in_hundred((1, 2)) == [33, 67]
    assert in_hundred((1, 1, 1)) == [34, 33, 33]


@pytest.mark.parametrize(
    ("weights", "text"),
    [
        ((0, 0), "the same day"),
        ((1,), "next day 100 in 100"),
        ((2, 1, 1), "next day 50, second day 25, third day 25 in 100"),
        ((78, 15, 4, 2, 1), "next day 78, second day 15, third day 4, later 3 in 100"),
    ],
)
def test_odds_name_three_days_and_add_the_rest_up(weights, text):
    assert odds(weights).replace(NBSP, " ") == text


@pytest.mark.parametrize(
    ("coins", "country", "text"),
    [
        (349, "GB", "£3.49"),
        (5, "IE", "€0.05"),
        (1200, "US", "$12.00"),
        (349, "NO", "3.49"),
        (0, "GB", "£0.00"),
        (None, "GB", "not typed in"),
    ],
)
def test_postage_has_two_places_and_the_countrys_sign(coins, country, text):
    assert postage(coins, country) == text


@pytest.mark.parametrize(
    ("hours", "text"), [(16, "by 4 pm"), (9.25, "by 9.15 am"), (24, "by 11.59 pm")]
)
def test_the_cut_off_stays_within_its_day(hours, text):
    assert cut_off(hours).replace(NBSP, " ") == text
