"""Frost tonight: the FAO regression.

Nights and check values as in the public R package "frost" (github.com/anadiedrichs/frost, R/models.R
and its reference pages), which cites Snyder and de Melo-Abreu 2005, Frost protection, FAO, volume 1,
chapter 5.
"""

import pytest

from exchange.domain.weather.sunset import FAO_NIGHTS, fit_sunset

RULE = fit_sunset(FAO_NIGHTS)


def test_the_published_check_value():
    assert RULE.minimum(10.0, 2.0) == pytest.approx(-0.7409219, abs=1e-7)


def test_the_coefficients_of_the_two_fits_in_sequence():
    # worked out from the ten printed nights; fitting both at once would give .4473 and .0451
    assert RULE.slope == pytest.approx(0.50281215, abs=1e-8)
    assert RULE.intercept == pytest.approx(-5.90854893, abs=1e-8)
    assert RULE.dew_slope == pytest.approx(0.02647164, abs=1e-8)
    assert RULE.dew_intercept == pytest.approx(0.08656228, abs=1e-8)
    assert RULE.error_k == pytest.approx(0.712807, abs=1e-6)


def test_the_ten_nights_as_the_rule_has_them():
    without = (-4.30, -5.51, -5.81, -4.60, -3.70, -3.29, -4.55, -5.31, -3.65, -3.09)
    with_dew = (-4.32, -5.65, -5.89, -4.68, -3.77, -3.14, -4.48, -5.26, -3.59, -3.00)

    for (evening, dew, _low), bare, full in zip(FAO_NIGHTS, without, with_dew, strict=True):
        assert RULE.minimum(evening) == pytest.approx(bare, abs=0.006)
        assert RULE.minimum(evening, dew) == pytest.approx(full, abs=0.006)


def test_without_a_dew_point_the_first_fit_stands_alone():
    assert RULE.minimum(10.0) == pytest.approx(-0.880427, abs=1e-6)
