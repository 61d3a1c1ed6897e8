"""Scores against published test values, properscoring and numerical integration."""

import math

import properscoring
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from exchange.domain.weather.scoring import (
    brier,
    crps_normal,
    reliability_table,
)


@pytest.mark.parametrize(
    ("observed", "mean", "sd", "expected"),
    [
        (-3.0, 0.0, 1.0, 2.43657473),  # unit test of the R package scoringRules
        (-2.7, 0.0, 0.9, 0.9 * 2.43657473),  # the same, scaled
        (0.0, 0.0, 1.0, 0.2336949773),
        (1.0, 0.0, 1.0, 0.6024413576),
        (-1.0, 2.0, 1.5, 2.1791877327),
        (0.0, -1.2, 2.5, 0.8097158120),
    ],
)
def test_crps_of_normals(observed, mean, sd, expected):
    assert crps_normal(observed, mean, sd) == pytest.approx(expected, abs=1e-8)
    assert crps_normal(observed, mean, sd) == pytest.approx(
        float(properscoring.crps_gaussian(observed, mean, sd)), abs=1e-9
    )


def test_the_mean_crps_of_a_calibrated_normal_is_its_spread_over_root_pi():
    mean, _error = quad(lambda y: crps_normal(y, 0.0, 2.0) * norm.pdf(y, 0.0, 2.0), -20, 20)

    assert mean == pytest.approx(2.0 / math.sqrt(math.pi), abs=1e-6)


def test_brier_score_of_four_forecasts():
    result = brier((0.9, 0.1, 0.3, 0.7), (True, False, True, False))

    assert result.value == pytest.approx(0.25)
    assert result.value == pytest.approx(
        float(properscoring.brier_score([1, 0, 1, 0], [0.9, 0.1, 0.3, 0.7]).mean())
    )


def test_murphys_parts_add_up():
    # Murphy 1973, J. Appl. Meteorol. 12:595; figures worked out by hand
    chances = (0.1,) * 5 + (0.5,) * 4 + (0.8,) * 3
    outcomes = [bool(o) for o in (0, 0, 0, 0, 1, 1, 0, 1, 0, 1, 1, 0)]
    result = brier(chances, outcomes)

    assert result.value == pytest.approx(0.2141667, abs=1e-7)
    assert result.reliability == pytest.approx(0.0086111, abs=1e-7)
    assert result.resolution == pytest.approx(0.0375, abs=1e-7)
    assert result.uncertainty == pytest.approx(0.2430556, abs=1e-7)
    assert result.skill == pytest.approx(0.1188571, abs=1e-6)
    assert result.value == pytest.approx(
        result.reliability - result.resolution + result.uncertainty
    )


def test_skill_is_unknown_when_nothing_varied():
    assert brier((0.1, 0.2), (False, False)).skill is None


def test_nothing_cannot_be_scored():
    with pytest.raises(ValueError, match="nothing to compare"):
        brier((), ())


def test_the_reliability_table_has_a_row_for_each_tenth_that_occurs():
    table = reliability_table((0.05, 0.15, 0.18, 1.0), (False, True, False, True))

    assert [(row.low, row.nights) for row in table] == [(0.0, 1), (0.1, 2), (0.9, 1)]
    assert table[1].stated == pytest.approx(0.165)
    assert table[1].came == 0.5
