"""Frost dates against those counted in thirty years of daily minima.

Daily minima 1991 to 2020: Dublin Airport (Met Eireann), Hoogeveen, Hupsel and Herwijnen (KNMI); monthly air frosts
of 34 stations (Met Office). `python -m tests.reference.count_frosts FOLDER` counts them again. A counted
nine-in-ten date is itself uncertain by 3 to 7 days (bootstrap).
"""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from exchange.domain.weather.climate import LIE_SHIFT_K, with_nights_shifted
from exchange.domain.weather.frost import GROUND_FROST, chances_from, frost_by, safe_date
from exchange.domain.weather.hazard import air_frost, at_place, spread_ratios
from tests.reference.count_frosts import (
    SHIFTS_K,
    by_name,
    first_frost,
    frost_months,
    last_frost,
    plain_day,
)

LAST = {  # 9 springs in 10 had their last night below -shift by then; the shifts are SHIFTS_K
    "dublinairport": ((5, 5), (5, 10), (5, 18), (5, 23), (5, 30), (6, 8)),
    "hoogeveen": ((4, 30), (5, 5), (5, 16), (5, 20), (5, 22), (5, 29)),
    "hupsel": ((5, 6), (5, 16), (5, 20), (5, 29), (5, 29), (6, 5)),
    "herwijnen": ((5, 4), (5, 14), (5, 18), (5, 19), (5, 23), (5, 29)),
}
FIRST = {  # first autumn frost of 1 and of 5 autumns in 10, and of 5 with every night 1.5 K colder
    "dublinairport": ((10, 18), (11, 3), (10, 17)),
    "hoogeveen": ((10, 13), (10, 27), (10, 17)),
    "hupsel": ((10, 11), (10, 27), (10, 11)),
    "herwijnen": ((10, 16), (10, 31), (10, 19)),
}
GROUND = {  # over grass at Dublin Airport, at 10 cm elsewhere; 9 springs in 10
    "dublinairport": (6, 9),
    "hoogeveen": (5, 20),
    "hupsel": (6, 17),
    "herwijnen": (5, 22),
}
INNER = {
    # ratio of spring, mean [C], spread [K], offset [K] and hazard of the night to 15 May; chance from 1 May
    "dublinairport": (0.9384, 6.162, 3.103, 0.446, 0.01246, 0.336),
    "hoogeveen": (1.0043, 7.230, 3.321, 0.268, 0.00899, 0.280),
    "hupsel": (1.0942, 6.972, 3.618, 0.813, 0.01179, 0.345),
    "herwijnen": (1.1099, 7.152, 3.670, 0.764, 0.01164, 0.320),
}
DIGITS = (4, 3, 3, 3, 5, 3)
CASES = [
    (name, shift, day)
    for name, days in LAST.items()
    for shift, day in zip(SHIFTS_K, days, strict=True)
]
CLIMATES = by_name()


def number(month, day):
    return plain_day(date(2001, month, day))


def late(name, shift, counted):
    """By how much our last day with a frost in more than 1 spring of 10 is later than the counted one [days]."""
    safe = safe_date(with_nights_shifted(CLIMATES[name], shift), 2027)
    return plain_day(safe.day) - 1 - number(*counted)


@pytest.mark.parametrize(("name", "shift", "counted"), CASES)
def test_the_last_frost_is_within_eight_days_of_counting_in_the_open_in_hollows_and_on_hills(
    name, shift, counted
):
    assert abs(late(name, shift, counted)) <= 8


def test_all_cases_together_are_a_little_late_which_is_the_safe_side():
    errors = np.array([late(*case) for case in CASES])

    assert errors.mean() == pytest.approx(3.3, abs=0.5)
    assert np.sqrt((errors**2).mean()) < 4.8


@pytest.mark.parametrize("name", INNER)
def test_inner_values_hold_to_their_last_digit(name):
    climate = CLIMATES[name]
    day = number(5, 15) - 1
    mean, spread = at_place(climate)
    plain, _spread = at_place(climate_without_counts(climate))

    ours = (
        spread_ratios(climate)[0],
        plain[day],
        spread[day],
        mean[day] - plain[day],
        air_frost(climate)[day],
        chances_from(climate)[number(5, 1) - 1],
    )
    assert [round(float(one), digits) for one, digits in zip(ours, DIGITS, strict=True)] == list(
        INNER[name]
    )


def test_dublins_autumn_has_its_own_spread():
    assert spread_ratios(CLIMATES["dublinairport"])[1] == pytest.approx(0.93, abs=5e-5)


def climate_without_counts(climate):
    return replace(climate, any_frost=())


@pytest.mark.parametrize("name", FIRST)
def test_the_first_autumn_frost_is_at_most_eight_days_early_and_five_late(name):
    climate = CLIMATES[name]
    ours = (
        frost_by(climate, 2027, 0.1),
        frost_by(climate, 2027, 0.5),
        frost_by(with_nights_shifted(climate, LIE_SHIFT_K["hollow"]), 2027, 0.5),
    )

    errors = [
        plain_day(one) - number(*counted) for one, counted in zip(ours, FIRST[name], strict=True)
    ]

    assert all(-8 <= error <= 5 for error in errors)


@pytest.mark.parametrize("name", GROUND)
def test_the_last_ground_frost_is_about_a_fortnight_off_at_the_most(name):
    ours = safe_date(CLIMATES[name], 2027, frost=GROUND_FROST).day

    assert abs(plain_day(ours) - 1 - number(*GROUND[name])) <= 16


@pytest.mark.parametrize(
    ("first", "counted"), [((4, 1), 0.83), ((4, 15), 0.70), ((5, 1), 0.30), ((5, 15), 0.03)]
)
def test_dublins_chance_of_a_frost_to_come_is_near_the_share_of_years_that_had_one(first, counted):
    chance = chances_from(CLIMATES["dublinairport"])[number(*first)]

    assert chance == pytest.approx(counted, abs=0.13)


def test_counting_finds_the_last_and_the_first_frost_of_the_years():
    years = {year: [(100, -1.0), (120, low), (300, -0.5)] for year, low in ((1, 0.0), (2, -0.2))}

    assert last_frost(years, 0.0) == pytest.approx(100 + 0.9 * 20)
    assert last_frost(years, 0.5) == 100
    assert last_frost(years, 2.0) == 0
    assert first_frost(years, 0.5) == 300
    assert first_frost(years, 0.5, 0.5) == 366


def test_counting_reads_marked_and_missing_months_and_leaves_provisional_ones(tmp_path):
    path = tmp_path / "ludlowdata.txt"
    path.write_text(
        "Ludlow\n  yyyy  mm   tmax    tmin      af    rain     sun\n"
        "  1991   4   12.0    4.0*      3#   40.0   150.0\n"
        "  1991   5    ---    ---     ---   40.0   150.0\n"
        "  1992   4   12.0    4.0       2   40.0   150.0  Provisional\n"
    )

    assert frost_months(path) == {1991: {4: 3}}
