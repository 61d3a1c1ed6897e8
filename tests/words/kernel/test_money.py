"""Sums of money are read as people type them, and written with the country's sign."""

import pytest

from exchange.words.kernel.money import amount, read_amount


@pytest.mark.parametrize(
    ("typed", "coins"),
    [
        ("3.49", 349),
        ("3,49", 349),
        (" £3.49 ", 349),
        ("3.5", 350),
        ("3", 300),
        ("349p", 349),
        ("2,10 €", 210),
        ("0", 0),
        ("", None),
        ("-3", None),
        ("3.499", None),
        ("1,234.50", None),
        ("about 3", None),
        ("9999999", None),
    ],
)
def test_a_sum_is_read_or_refused_and_never_guessed(typed, coins):
    assert read_amount(typed) == coins


@pytest.mark.parametrize(
    ("country", "said"), [("GB", "£3.05"), ("IE", "€3.05"), ("US", "$3.05"), ("NO", "3.05")]
)
def test_a_sum_is_written_with_the_sign_of_its_country(country, said):
    assert amount(305, country) == said
