"""Ground frost by screen minimum, measured March to June 1991 to 2024.

Shares of nights with a minimum below 0 over short grass (Dublin Airport, Met Eireann) and at 10 cm
(Hoogeveen and Herwijnen, KNMI) for screen minima from the degree named up to the next; 200 to 390
nights each. Stations differ, so one curve can only lie among them.
"""

import pytest

from exchange.domain.weather.grass import GRASS

MEASURED = {
    -1: (0.90, 0.99, 0.99),
    0: (0.85, 0.80, 0.86),
    1: (0.65, 0.41, 0.53),
    2: (0.45, 0.14, 0.15),
    3: (0.22, 0.03, 0.04),
    4: (0.14, 0.0, 0.0),
    5: (0.04, 0.0, 0.0),
}


@pytest.mark.parametrize(("degree", "shares"), MEASURED.items())
def test_the_curve_lies_among_the_stations(degree, shares):
    chance = GRASS.chance(degree + 0.5)

    assert min(shares) - 0.06 <= chance <= max(shares) + 0.06


def test_a_fixed_difference_of_two_and_a_half_degrees_would_be_wrong_both_ways():
    # it would call every night below 2.5 C a ground frost and none above
    assert GRASS.chance(2.4) < 0.35
    assert GRASS.chance(2.6) > 0.15
