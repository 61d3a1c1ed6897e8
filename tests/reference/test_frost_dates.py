"""Frost on at least one of several nights, against a bivariate and a multivariate normal."""

import pytest
from scipy.stats import multivariate_normal

from exchange.domain.weather.normal import chance_any_below


@pytest.mark.parametrize(
    ("correlation", "expected"), [(0.0, 0.36), (0.3, 0.333854), (0.6, 0.300765), (0.9, 0.250068)]
)
def test_two_nights_agree_with_the_bivariate_normal(correlation, expected):
    bound = -0.8416212335729143  # each night freezes with a chance of 0.2
    together = chance_any_below(bound, (0.0, 0.0), (1.0, 1.0), correlation)

    law = multivariate_normal(cov=[[1.0, correlation], [correlation, 1.0]])
    assert together == pytest.approx(expected, abs=2e-6)
    assert together == pytest.approx(0.2 + 0.2 - law.cdf([bound, bound]), abs=1e-5)


@pytest.mark.parametrize(("nights", "expected"), [(2, 0.160983), (3, 0.213975), (5, 0.307103)])
def test_a_chain_of_nights_with_correlation_six_tenths(nights, expected):
    # expected: scipy.stats.multivariate_normal with two million points a night
    bound = -1.2815515655446004  # 0.1 each; independent nights would give .19 .271 .40951
    chance = chance_any_below(bound, (0.0,) * nights, (1.0,) * nights, 0.6)

    assert chance == pytest.approx(expected, abs=2e-6)
