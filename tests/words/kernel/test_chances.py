"""A chance has one form, and is rounded in one place."""

import pytest

from exchange.words.kernel.chances import in_hundred, range_in_hundred
from exchange.words.kernel.phrase import NBSP


def spaced(text):
    return text.replace(NBSP, " ")


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (None, "not known"),
        (0.0, "fewer than 1 in 100"),
        (0.004, "fewer than 1 in 100"),
        (0.01, "1 in 100"),
        (0.034, "3 in 100"),
        (0.2, "20 in 100"),
        (0.994, "99 in 100"),
        (0.996, "over 99 in 100"),
        (1.0, "over 99 in 100"),
    ],
)
def test_a_chance_is_said_in_a_hundred(chance, said):
    assert spaced(in_hundred(chance)) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (0.12, 0.3, "12 to 30 in 100"),
        (0.121, 0.123, "12 in 100"),
        (0.001, 0.3, "up to 30 in 100"),
        (0.001, 0.002, "fewer than 1 in 100"),
        (0.4, 0.999, "40 to over 99 in 100"),
    ],
)
def test_a_range_tells_its_best_and_its_worst(low, high, said):
    assert spaced(range_in_hundred(low, high)) == said


def test_a_chance_does_not_break_over_a_line():
    assert " " not in in_hundred(0.2)
    assert in_hundred(0.0) == f"fewer than 1{NBSP}in{NBSP}100"
