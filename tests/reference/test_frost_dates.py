"""Last frost dates against published tables, and joined nights against a bivariate normal."""

from datetime import date, timedelta

import pytest
from scipy.stats import multivariate_normal

from exchange.domain.weather.frost import AIR_FROST, LastFrost
from exchange.domain.weather.normal import chance_any_below


def day_number(text):
    day, month = text.split()
    months = ("Jan", "Feb", "Mar", "Apr", "May", "Jun")
    return (date(2001, months.index(month) + 1, int(day)) - date(2000, 12, 31)).days


def a_last_frost(mean_day, sd_days, frost_share=1.0):
    return LastFrost(AIR_FROST, mean_day, sd_days, frost_share, "as published")


# Georgetown, Delaware (Moyer, ESSA Weather Bureau and University of Maryland 1970, at
# rec.udel.edu/misc/Frost%20dates.htm): dates after which the temperature still comes in
# 10, 33, 50, 67 and 90 % of springs
DELAWARE = [
    (115.0, 11.70, 0.3, ("10 May", "30 Apr", "25 Apr", "20 Apr", "10 Apr")),  # 32 F
    (86.0, 10.14, 1.0, ("9 Apr", "1 Apr", "27 Mar", "22 Mar", "14 Mar")),  # 24 F
    (56.0, 12.48, 0.6, ("13 Mar", "3 Mar", "25 Feb", "19 Feb", "9 Feb")),  # 16 F
]


@pytest.mark.parametrize(("mean", "sd", "within", "published"), DELAWARE)
def test_delaware_dates_are_a_normal_law(mean, sd, within, published):
    last = a_last_frost(mean, sd)

    for exceedance, text in zip((0.10, 0.33, 0.50, 0.67, 0.90), published, strict=True):
        assert last.day_at(exceedance) == pytest.approx(day_number(text), abs=within)


# Milton-Freewater, Oregon, NOAA normals reprinted at victoryseeds.com: 10 to 90 %
MILTON = [
    (92.33, 15.09, "22 Apr 15 Apr 10 Apr 6 Apr 2 Apr 30 Mar 25 Mar 21 Mar 14 Mar"),  # 32 F
    (113.78, 13.00, "10 May 5 May 1 May 27 Apr 24 Apr 20 Apr 17 Apr 13 Apr 7 Apr"),  # 36 F
    (75.33, 18.08, "8 Apr 1 Apr 26 Mar 21 Mar 16 Mar 12 Mar 7 Mar 1 Mar 21 Feb"),  # 28 F
]


@pytest.mark.parametrize(("mean", "sd", "published"), MILTON)
def test_milton_freewater_dates_are_a_normal_law(mean, sd, published):
    last = a_last_frost(mean, sd)
    words = published.split()
    texts = [" ".join(words[i : i + 2]) for i in range(0, len(words), 2)]

    for tenth, text in enumerate(texts, start=1):
        assert last.day_at(tenth / 10) == pytest.approx(day_number(text), abs=0.6)


def test_milton_freewater_at_16_f_needs_the_mixed_form():
    # the table prints "--" at 90 %: fewer than 9 years in 10 reach 16 F
    last = a_last_frost(29.52, 20.06, frost_share=0.8995)
    texts = ("23 Feb", "14 Feb", "7 Feb", "1 Feb", "27 Jan", "21 Jan", "14 Jan", "5 Jan")

    for tenth, text in enumerate(texts, start=1):
        assert last.day_at(tenth / 10) == pytest.approx(day_number(text), abs=0.6)
    assert last.day_at(0.9) is None


@pytest.mark.parametrize(
    ("day", "chance"),
    [(100, 0.900), (110, 0.665), (115, 0.5), (120, 0.335), (125, 0.196), (130, 0.1), (135, 0.044)],
)
def test_chance_of_frost_after_a_day_in_delaware(day, chance):
    assert a_last_frost(115.0, 11.7028).chance_from(day) == pytest.approx(chance, abs=0.0006)


def test_years_without_frost_bring_the_dates_forward():
    mixed, plain = a_last_frost(60.0, 12.0, frost_share=0.8), a_last_frost(60.0, 12.0)

    assert mixed.day_at(0.1) == pytest.approx(73.8042, abs=1e-4)
    assert mixed.day_at(0.5) == pytest.approx(56.1763, abs=1e-4)
    assert plain.day_at(0.1) == pytest.approx(75.3786, abs=1e-4)
    assert plain.day_at(0.5) == pytest.approx(60.0)


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


def test_convention_ten_percent_exceedance_is_the_ninetieth_percentile():
    # NOAA spring freeze tables: the 10 % date is the late one (MRCC calls it the 90th percentile)
    last = a_last_frost(115.0, 11.70)

    assert last.day_at(0.10) > last.day_at(0.90)
    assert date(2001, 1, 1) + timedelta(days=round(last.day_at(0.10)) - 1) == date(2001, 5, 10)
