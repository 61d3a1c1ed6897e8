from datetime import timedelta
from itertools import pairwise

import numpy as np
import pytest
from scipy.stats import norm

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.posting.exposure import (
    COLDEST_HOUR,
    WARMEST_HOUR,
    air,
    hourly,
    night_low,
    sheltered_lows,
    warmest,
)
from exchange.domain.posting.scenarios import NIGHT_CORRELATION, night_errors
from tests.builders.posting import MONDAY, an_outlook


def test_every_night_has_the_exact_quantiles_of_its_distribution():
    errors = night_errors(30, 24)
    want = norm.ppf((np.arange(24) + 0.5) / 24)
    for night in errors:
        assert np.sort(night) == pytest.approx(want, abs=1e-9)


def test_neighbouring_nights_go_together_and_distant_ones_do_not():
    errors = night_errors(60, 200)
    near = [np.corrcoef(errors[n], errors[n + 1])[0, 1] for n in range(59)]
    far = [np.corrcoef(errors[n], errors[n + 20])[0, 1] for n in range(40)]
    assert np.mean(near) == pytest.approx(NIGHT_CORRELATION, abs=0.08)
    assert abs(np.mean(far)) < 0.1


def test_the_same_futures_come_each_time_and_cannot_be_changed():
    assert night_errors(10, 24) is night_errors(10, 24)
    with pytest.raises(ValueError, match="read-only"):
        night_errors(10, 24)[0, 0] = 1


def test_the_hours_reach_the_night_s_minimum_and_the_day_s_maximum():
    lows = np.array([[[3.0], [-2.0], [5.0]]])
    highs = np.array([[[12.0], [9.0], [14.0]]])
    hours = hourly(lows, highs)[:, 0, :, 0]
    assert hours[WARMEST_HOUR].tolist() == [12.0, 9.0, 14.0]
    assert hours[COLDEST_HOUR, 1:].tolist() == [3.0, -2.0]
    night = [*hours[WARMEST_HOUR:, 1], *hours[: COLDEST_HOUR + 1, 2]]
    assert night == sorted(night, reverse=True)


def test_nights_beyond_the_outlook_repeat_the_last_and_are_not_known():
    drawn = air({7: an_outlook(7, means=[8, 2], nights=4, first=MONDAY)}, MONDAY, 6, 24)
    assert drawn.known[0].tolist() == [True] * 4 + [False] * 2
    assert drawn.middle[0, 5] == drawn.middle[0, 3]


def test_the_first_known_night_stands_for_those_before_it():
    late = an_outlook(7, means=[1, 8], nights=9, first=MONDAY + timedelta(days=2))
    drawn = air({7: late}, MONDAY, 6, 24)
    assert drawn.known[0].tolist() == [False] * 2 + [True] * 4
    assert drawn.middle[0, 0] == 1


def test_a_place_without_nights_is_not_a_number():
    drawn = air({7: an_outlook(7, nights=0)}, MONDAY, 3, 24)
    assert np.isnan(drawn.lows).all()


def test_shelters_hold_off_the_cold_in_their_order():
    outside = np.linspace(-8, 8, 17)
    lows = [night_low(kind, outside) for kind in ShelterKind]
    for warmer, colder in pairwise(lows):
        assert (warmer >= colder).all()


def test_pots_that_can_be_carried_in_count_as_free_of_frost_and_none_known_as_indoors():
    assert warmest([Shelter(1, ShelterKind.COLD, carried_in=True)]) is ShelterKind.FROST_FREE
    assert warmest([]) is ShelterKind.INDOORS
    both = [Shelter(1, ShelterKind.COLD), Shelter(1, ShelterKind.HEATED)]
    assert warmest(both) is ShelterKind.HEATED


def test_the_coldest_of_the_first_nights_counts():
    drawn = air({7: an_outlook(7, means=[8, 8, 1, 8, 8, 8, 8, 8], first=MONDAY)}, MONDAY, 8, 24)
    lows = sheltered_lows(drawn, [(0, ShelterKind.OPEN_GROUND)], 2)
    assert lows[0].mean(axis=1) == pytest.approx([8, 1, 1, 8, 8, 8, 8, 8], abs=0.5)
