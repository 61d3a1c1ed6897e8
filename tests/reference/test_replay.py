"""The planner's rule on thirty real springs of Dublin and Hoogeveen, beside the best rule of thumb.

Daily minima of Met Éireann and KNMI, where the files are at hand. All sets and seeds, with their means, are
measured by `measure_replay`; here one set and seed is held to the limits of each row.
"""

import pytest

from tests.house import ROOT
from tests.reference.measure_replay import rows

FOLDER = ROOT.parent / "shared" / "data" / "daily"

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="the daily files are not at hand")


@pytest.fixture(scope="module")
def measured():
    return rows(FOLDER, "Dublin and Hoogeveen", 1)


def test_the_planner_keeps_every_limit_on_real_springs(measured):
    assert len(measured) == 4
    assert [said for row in measured for said in row.missed()] == []


def test_a_row_that_misses_a_limit_says_which(measured, monkeypatch):
    monkeypatch.setattr("tests.reference.measure_replay.MOST_MOVES", 0.0)

    assert all("moves" in next(row.missed()) for row in measured)
