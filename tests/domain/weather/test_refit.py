import numpy as np
import pytest

from exchange.domain.weather.blend import PUBLISHED, Skill, at_lead, explained, lead_spread
from exchange.domain.weather.refit import (
    KeptNight,
    TooFewNightsError,
    learned_shift,
    mean_crps,
    refit,
    spread_of_shift,
)


def kept_nights(skill, count=400, seed=3):
    """Draw regressed forecasts of a given skill with what came about."""
    chance = np.random.default_rng(seed)
    nights = []
    for number in range(count):
        lead = 1.0 + number % 9
        share = explained(lead, skill)
        forecast = 4.0 + np.sqrt(share) * 3.5 * chance.standard_normal()
        said = at_lead(forecast, 4.0, 3.5, lead, regressed=True, skill=skill)
        observed = said.mean_c + said.sd_k * chance.standard_normal()
        nights.append(KeptNight(lead, forecast, 4.0, 3.5, observed, regressed=True))
    return nights


@pytest.mark.parametrize("true", [Skill(4.0, 0.674), Skill(20.0, 0.674)])
def test_the_spread_that_made_the_nights_is_found_again(true):
    found = refit(kept_nights(true, count=900))

    for lead in (2.0, 5.0, 8.0):
        ours = lead_spread(lead, 3.5, found.after)
        assert ours == pytest.approx(lead_spread(lead, 3.5, true), rel=0.12)
    assert found.crps_after_k < found.crps_before_k
    assert found.before == PUBLISHED


def test_the_new_spread_never_scores_worse_on_its_nights():
    nights = kept_nights(PUBLISHED, count=120)
    found = refit(nights)

    assert found.crps_after_k <= found.crps_before_k
    assert found.crps_after_k == pytest.approx(mean_crps(nights, found.after))


def test_too_few_nights_are_not_refitted():
    with pytest.raises(TooFewNightsError, match="60 nights"):
        refit(kept_nights(PUBLISHED, count=59))


def test_a_places_own_difference_is_held_back_while_nights_are_few():
    assert learned_shift([]) == 0.0
    assert learned_shift([-2.0] * 5) == pytest.approx(-2.0 / 3.0)
    assert learned_shift([-2.0] * 1000) == pytest.approx(-2.0, abs=0.03)


def test_the_error_of_the_difference_shrinks_with_nights():
    assert spread_of_shift([1.0, 2.0]) is None
    assert spread_of_shift([1.0, 2.0, 3.0] * 20) < spread_of_shift([1.0, 2.0, 3.0])
