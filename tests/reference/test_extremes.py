"""Risk over years and yearly minima, against published tables and scipy."""

import pytest
from scipy.stats import gumbel_l, gumbel_r

from exchange.domain.weather.extremes import risk_over, yearly_chance_for, yearly_minimum


@pytest.mark.parametrize(
    ("yearly", "years", "risk"),
    [
        (1 / 150, 10, 0.0647018107),  # formuladen.com, formula 14480
        (0.02, 10, 0.183),  # EN 1991-1-3, example for a return period of 50 years
        (0.02, 25, 0.397),
        (0.02, 30, 0.455),
    ],
)
def test_published_risks_over_years(yearly, years, risk):
    assert risk_over(yearly, years) == pytest.approx(risk, abs=0.0005)


@pytest.mark.parametrize(
    ("yearly", "risks"),
    [
        (0.05, (0.050, 0.098, 0.143, 0.226, 0.401, 0.537, 0.642, 0.785)),
        (0.10, (0.100, 0.190, 0.271, 0.410, 0.651, 0.794, 0.878, 0.958)),
        (0.20, (0.200, 0.360, 0.488, 0.672, 0.893, 0.965, 0.988, 0.999)),
    ],
)
def test_the_risk_table(yearly, risks):
    # form of the table: FAO, Frost protection, volume 2, chapter 1
    for years, risk in zip((1, 2, 3, 5, 10, 15, 20, 30), risks, strict=True):
        assert risk_over(yearly, years) == pytest.approx(risk, abs=0.0006)


def test_the_yearly_chance_that_leaves_a_risk():
    assert yearly_chance_for(0.10, 10) == pytest.approx(0.01048074, abs=1e-8)
    assert yearly_chance_for(0.25, 20) == pytest.approx(0.01428114, abs=1e-8)


def test_yearly_minima_follow_the_gumbel_law_for_minima():
    law = yearly_minimum(-3.0, 2.0)
    theirs = gumbel_l(law.location, law.scale)

    assert law.scale == pytest.approx(1.55939360, abs=1e-8)
    assert law.location == pytest.approx(-2.09989358, abs=1e-7)
    for minimum, chance in ((-5.0, 0.14419193), (-3.0, 0.42962400), (-2.0, 0.65567027)):
        assert law.chance_at_most(minimum) == pytest.approx(chance, abs=1e-6)
        assert law.chance_at_most(minimum) == pytest.approx(theirs.cdf(minimum), abs=1e-12)
    assert law.minimum_at(0.1) == pytest.approx(-5.60910200, abs=1e-6)
    assert theirs.mean() == pytest.approx(-3.0)
    assert theirs.std() == pytest.approx(2.0)


def test_the_law_for_maxima_would_be_the_wrong_tail():
    law = yearly_minimum(-3.0, 2.0)
    wrong = gumbel_r(loc=-3.0 - 0.450053 * 2.0, scale=law.scale)

    assert abs(law.chance_at_most(-6.0) - wrong.cdf(-6.0)) > 0.03
