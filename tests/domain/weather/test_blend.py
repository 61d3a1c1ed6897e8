import math

import pytest

from exchange.domain.weather.blend import HORIZON_DAYS, at_lead, explained, lead_spread

LEADS = [0.0, 0.3, 1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 14.01, 20]


def test_the_spread_grows_with_the_lead_and_never_passes_the_climatic_one():
    for climatic in (0.5, 2.0, 3.0, 3.5, 5.0):
        spreads = [lead_spread(lead, climatic) for lead in LEADS]

        assert spreads == sorted(spreads)
        assert spreads[-1] == climatic


def test_beyond_the_horizon_the_answer_is_climate_exactly():
    joined = at_lead(-9.0, 4.0, 3.5, HORIZON_DAYS + 0.01)

    assert (joined.mean_c, joined.sd_k, joined.weight) == (4.0, 3.5, 0.0)


def test_a_raw_forecast_is_drawn_toward_climate_once():
    joined = at_lead(1.0, 4.0, 3.5, 6.0)

    assert joined.weight == pytest.approx(math.sqrt(explained(6.0)))
    assert joined.mean_c == pytest.approx(4.0 - 3.0 * math.sqrt(0.5), abs=0.001)
    assert joined.sd_k == lead_spread(6.0, 3.5)


def test_a_regressed_forecast_is_not_drawn_a_second_time():
    joined = at_lead(1.0, 4.0, 3.5, 6.0, regressed=True)

    assert joined.mean_c == 1.0
    assert joined.sd_k == lead_spread(6.0, 3.5)


def test_the_mean_lies_between_forecast_and_climate_and_nearer_climate_with_the_lead():
    means = [at_lead(0.0, 4.0, 3.5, lead).mean_c for lead in LEADS]

    assert all(0.0 < mean <= 4.0 for mean in means)
    assert means == sorted(means)
