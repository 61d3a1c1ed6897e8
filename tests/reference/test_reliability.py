"""The stated frost chance against thirty real springs, with forecasts of the published skill.

Daily minima of three stations, 1991 to 2020, March to May; every night forecast at leads of 1 to 10
days by the fixed process f = c + R2 (x - c) + sqrt(R2 (1 - R2)) s e, e correlated 0.7 along the lead.
Pooled over leads and stations, the share of frosts in every tenth of stated chance with at least 500
nights must lie within 0.05 of what was stated.
"""

import csv
from datetime import date
from statistics import NormalDist

import numpy as np
import pytest

from exchange.domain.weather.blend import PUBLISHED, Skill, at_lead, explained
from exchange.domain.weather.scoring import reliability_table
from tests.house import ROOT

FOLDER = ROOT.parent / "shared" / "data" / "daily"
FILES = ("dublin_airport", "knmi_279_hoogeveen", "knmi_356_herwijnen")
YEARS = range(1991, 2021)
LEADS = np.arange(1, 11) + 0.5
SITE_FREE = Skill(site_error_k=0.0)

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="the daily files are not here")


def springs(name):
    """Give each spring night's minimum with the mean and spread within ten days of its date."""
    minima = {}
    with (FOLDER / f"{name}_daily.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            day = date.fromisoformat(row["date"])
            if row["tmin_c"] and day.year in YEARS and 2 <= day.month <= 6:
                minima[day] = float(row["tmin_c"])
    numbers = np.array([(date(2001, d.month, min(d.day, 28)).timetuple().tm_yday) for d in minima])
    values = np.array(list(minima.values()))
    nights = []
    for day, value in minima.items():
        if 3 <= day.month <= 5:
            near = np.abs(numbers - date(2001, day.month, min(day.day, 28)).timetuple().tm_yday)
            around = values[near <= 10]
            nights.append((value, around.mean(), around.std()))
    return np.array(nights)


@pytest.fixture(scope="module")
def nights():
    return np.concatenate([springs(name) for name in FILES])


def errors(count, seed):
    """Give errors correlated 0.7 along the lead, shape (count, leads)."""
    chance = np.random.default_rng(seed)
    drawn = chance.standard_normal((count, len(LEADS)))
    for lead in range(1, len(LEADS)):
        drawn[:, lead] = 0.7 * drawn[:, lead - 1] + np.sqrt(1 - 0.49) * drawn[:, lead]
    return drawn


def worst(chances, frosts, fewest=500):
    table = [row for row in reliability_table(chances, frosts) if row.nights >= fewest]
    assert len(table) >= 5
    return max(abs(row.stated - row.came) for row in table)


def stated(nights, forecasts, *, regressed, skill):
    """Give stated chances and frosts for all nights and leads."""
    chances, frosts = [], []
    for (observed, usual, spread), row in zip(nights, forecasts, strict=True):
        for lead, forecast in zip(LEADS, row, strict=True):
            said = at_lead(forecast, usual, spread, float(lead), regressed=regressed, skill=skill)
            chances.append(NormalDist(said.mean_c, said.sd_k).cdf(0.0))
            frosts.append(observed < 0.0)
    return chances, frosts


def test_regressed_forecasts_state_frost_chances_that_come_true(nights):
    observed, usual, spread = (nights[:, i : i + 1] for i in range(3))
    share = np.array([[explained(lead, SITE_FREE) for lead in LEADS]])
    e = errors(len(nights), seed=4)
    forecasts = usual + share * (observed - usual) + np.sqrt(share * (1 - share)) * spread * e

    assert worst(*stated(nights, forecasts, regressed=True, skill=SITE_FREE)) <= 0.05


def test_raw_forecasts_state_frost_chances_that_come_true(nights):
    # raw model output varies as much as the weather: f = c + R (x - c) + sqrt(1 - R2) s e
    observed, usual, spread = (nights[:, i : i + 1] for i in range(3))
    share = np.array([[explained(lead, SITE_FREE) for lead in LEADS]])
    e = errors(len(nights), seed=6)
    forecasts = usual + np.sqrt(share) * (observed - usual) + np.sqrt(1 - share) * spread * e

    assert worst(*stated(nights, forecasts, regressed=False, skill=SITE_FREE)) <= 0.05


def test_the_error_of_the_site_keeps_the_chances_true(nights):
    observed, usual, spread = (nights[:, i : i + 1] for i in range(3))
    share = np.array([[explained(lead) for lead in LEADS]])
    e = errors(len(nights), seed=7)
    forecasts = usual + share * (observed - usual) + np.sqrt(share * (1 - share)) * spread * e

    assert worst(*stated(nights, forecasts, regressed=True, skill=PUBLISHED)) <= 0.05


def test_climate_alone_states_frost_chances_that_come_true(nights):
    chances = [NormalDist(usual, spread).cdf(0.0) for _observed, usual, spread in nights]
    frosts = [observed < 0.0 for observed, _usual, _spread in nights]

    table = [row for row in reliability_table(chances, frosts) if row.nights >= 500]
    assert max(abs(row.stated - row.came) for row in table) <= 0.05
