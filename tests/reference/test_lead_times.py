"""The spread by lead time against published skill."""

import math
from statistics import NormalDist

import pytest

from exchange.domain.weather.blend import Skill, explained, lead_spread


def test_first_nights_are_as_good_as_the_met_office_reported():
    # metoffice.gov.uk, forecast accuracy (undated): 86.5 % of first-night minima within 2 C
    spread = lead_spread(1.0, 3.5)

    assert NormalDist(0.0, spread).cdf(2.0) - NormalDist(0.0, spread).cdf(-2.0) == pytest.approx(
        0.865, abs=0.001
    )
    assert spread == pytest.approx(2.0 / NormalDist().inv_cdf(0.9325), abs=0.001)


def test_third_nights_are_as_good_as_stern_reported():
    # Stern 2008, Meteorological Applications 15:65: mean error of day-3 minima about 1.6 C
    assert lead_spread(3.0, 3.5) * math.sqrt(2.0 / math.pi) == pytest.approx(1.6, abs=0.03)


def test_half_the_variance_is_explained_at_six_days():
    # Stern 2017 (AMS 97th annual meeting, paper 308241): day 5 to 7 about 50 %
    assert explained(6.0) == pytest.approx(0.5, abs=0.0005)
    assert explained(1.0) == pytest.approx(0.891, abs=0.0005)
    assert explained(14.0) == pytest.approx(0.198, abs=0.0005)


@pytest.mark.parametrize(
    ("lead", "spread"),
    [(1, 1.16), (2, 1.59), (3, 1.89), (4, 2.13), (5, 2.32), (7, 2.61), (10, 2.90), (14, 3.13)],
)
def test_the_spread_without_the_error_of_the_site(lead, spread):
    assert lead_spread(lead, 3.5, Skill(site_error_k=0.0)) == pytest.approx(spread, abs=0.006)


@pytest.mark.parametrize(
    ("lead", "chance"),
    [(1, 0.0418), (3, 0.1455), (5, 0.1942), (7, 0.2214), (10, 0.2450), (14, 0.2617)],
)
def test_frost_chance_by_lead_at_a_mean_of_two_degrees(lead, chance):
    assert NormalDist(2.0, lead_spread(lead, 3.5, Skill(site_error_k=0.0))).cdf(
        0.0
    ) == pytest.approx(chance, abs=0.0006)
