import numpy as np
import pytest

from exchange.domain.posting.injury import HELD_HOURS, Held


def followed(cores, start=15.0):
    held = Held.steady(np.array(start))
    for core in cores:
        held.add(np.array(core))
    return float(held.low), float(held.high)


@pytest.mark.parametrize(
    ("cores", "low"),
    [
        ([10, -4, 10, 10], 10),
        ([10, -4, -3, 10], 10),
        ([10, -4, -3, -2, 10], -2),
        ([4, 3, 2, 1, 2, 3, 4], 2),
    ],
)
def test_cold_counts_once_it_has_lasted_three_hours(cores, low):
    assert followed(cores)[0] == low


@pytest.mark.parametrize(
    ("cores", "high"), [([20, 34, 20], 20), ([20, 34, 33, 20], 20), ([20, 34, 33, 32, 20], 32)]
)
def test_heat_counts_once_it_has_lasted_three_hours(cores, high):
    assert followed(cores)[1] == high


def test_it_is_the_lowest_of_the_highest_of_any_three_hours_in_a_row():
    cores = np.random.default_rng(4).normal(5, 6, 60)
    known = [15.0] * HELD_HOURS + list(cores)
    hours = [known[at : at + HELD_HOURS] for at in range(len(known) - HELD_HOURS + 1)]

    assert followed(cores) == (min(map(max, hours)), max(map(min, hours)))


def test_a_branch_goes_on_without_touching_the_journey_it_left():
    held = Held.steady(np.array(15.0))
    held.add(np.array(2.0))
    branch = held.branch()
    for _hour in range(HELD_HOURS):
        branch.add(np.array(-5.0))

    assert (float(branch.low), float(held.low)) == (-5.0, 15.0)
    held.add(np.array(3.0))
    held.add(np.array(1.0))
    assert float(held.low) == 3.0
