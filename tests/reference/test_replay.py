"""The posting rule on thirty real springs of four stations, against what others do.

Daily minima of Dublin airport (Met Éireann) and of Hoogeveen, Hupsel and Herwijnen (KNMI), where the files
are at hand.
"""

import numpy as np
import pytest

from exchange.actions.weather.replay import read_daily
from exchange.domain.posting.replay import run
from tests.house import ROOT

FOLDER = ROOT.parent / "shared" / "data" / "daily"
FILES = (
    "dublin_airport_daily",
    "knmi_279_hoogeveen_daily",
    "knmi_283_hupsel_daily",
    "knmi_356_herwijnen_daily",
)
LIMITS = {
    "Monday to Wednesday": 0.24,
    "Mondays": 0.11,
    "no frost forecast, margin 0": 0.40,
    "no frost forecast, margin 1": 0.40,
    "no frost forecast, margin 2": 0.40,
}
PRICES = (0.08, 0.05, 0.03, 0.02, 0.01, 0.005, 0.002, 0.0003)

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="the daily files are not at hand")


@pytest.fixture(scope="module")
def found():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run, "PRICES", PRICES)
        patch.setattr(run, "BOUND_PRICES", ())
        series = {name: read_daily(FOLDER / f"{name}.csv") for name in FILES}
        return run.replay(series, np.random.default_rng(1))


def test_thirty_springs_of_four_stations_are_replayed(found):
    assert (len(found.years), found.parcels) == (30, 1800)


@pytest.mark.parametrize("rule", LIMITS)
def test_frosted_nights_at_the_rule_s_own_wait_stay_under_their_share(found, rule):
    (other,) = [one for one in found.rules if one.rule.name == rule]
    assert other.share is not None
    assert other.share <= LIMITS[rule]


def test_the_rules_of_others_come_out_as_plain_counting_says(found):
    """Ready on any day alike, a parcel has three days to the next Monday on the mean."""
    rules = {one.rule.name: one.rule for one in found.rules}
    assert rules["Mondays"].wait == pytest.approx(3.0, abs=0.15)
    assert rules["Monday to Wednesday"].wait == pytest.approx(1.43, abs=0.1)
    assert rules["Mondays"].over_sunday == 0
    assert rules["perfect foresight"].frosted < 1
