import pytest

from exchange.words.kernel.phrase import NBSP
from exchange.words.weather.forecast_verification import kelvin, shift, warmth


@pytest.mark.parametrize(
    ("too_warm_k", "text"),
    [
        (0.04, "neither too warm nor too cold"),
        (-0.04, "neither too warm nor too cold"),
        (0.05, "0.1 K too warm"),
        (-1.26, "1.3 K too cold"),
    ],
)
def test_a_shift_too_small_to_print_is_told_as_none(too_warm_k, text):
    assert warmth(too_warm_k).replace(NBSP, " ") == text


def test_below_zero_has_a_minus_and_no_hyphen():
    assert kelvin(-1.344) == f"\u22121.34{NBSP}K"


def test_the_side_is_said_in_words_and_the_doubt_where_it_is_known():
    colder, warmer = shift(-0.8, 0.3, 12), shift(0.8, None, 1)

    assert colder.replace(NBSP, " ") == (
        "Nights here come 0.80 K colder than forecast, give or take 0.30 K (12 nights)."
    )
    assert warmer.replace(NBSP, " ") == "Nights here come 0.80 K warmer than forecast (1 night)."
