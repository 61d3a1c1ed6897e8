from datetime import date, timedelta

import pytest

from exchange.domain.weather.compare import VerifiedNight, results_by_lead
from exchange.domain.weather.scoring import crps_normal


def a_night(observed=1.0, *, lead_days=1.2, mean_c=2.0, sd_k=1.5, offset=0):
    night = date(2027, 4, 1) + timedelta(days=offset)
    return VerifiedNight(night, lead_days, mean_c, sd_k, 4.0, 3.5, observed)


def test_nights_are_scored_by_lead_in_whole_days():
    scores = results_by_lead([a_night(lead_days=lead) for lead in (0.3, 0.8, 1.4, 1.6, 2.4)])

    assert [(score.lead_days, score.nights) for score in scores] == [(1, 3), (2, 2)]


def test_a_lead_tells_its_crps_beside_that_of_climate():
    (score,) = results_by_lead([a_night(1.0), a_night(3.0, offset=1)])

    assert score.crps_k == pytest.approx(
        (crps_normal(1.0, 2.0, 1.5) + crps_normal(3.0, 2.0, 1.5)) / 2
    )
    assert score.usual_crps_k > score.crps_k
    assert score.too_warm_k == pytest.approx(0.0)


def test_frost_chances_are_scored_and_tabled():
    nights = [a_night(-1.0, mean_c=-3.0), a_night(5.0, mean_c=6.0), a_night(-1.0, mean_c=3.0)]
    (score,) = results_by_lead(nights)

    assert score.frost.value == pytest.approx((0.05**2 * 0 + 0.0 + 1.0) / 3, abs=0.02)
    assert [row.nights for row in score.table] == [2, 1]
    assert score.frost.value == pytest.approx(
        score.frost.reliability - score.frost.resolution + score.frost.uncertainty
    )


def test_without_nights_there_are_no_scores():
    assert results_by_lead([]) == ()
