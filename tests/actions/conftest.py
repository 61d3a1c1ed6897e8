"""What tests of actions rest on: an installation per module and a circle per test, or a season.

A module that needs others redefines the fixture of that name.
"""

import pytest

from tests.app_fixtures import a_house, site
from tests.builders.offers import a_ring
from tests.builders.season_kept import season_in_house
from tests.builders.shared import a_sharing
from tests.one_transaction import hold_to_one


@pytest.fixture(autouse=True)
def one_transaction_an_act(monkeypatch):
    hold_to_one(monkeypatch)


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    with a_house(tmp_path_factory.mktemp("records")) as made:
        yield made


@pytest.fixture
def circle(house):
    return a_ring(house)


@pytest.fixture
def here(tmp_path):
    with site(tmp_path) as made:
        yield made


@pytest.fixture
def sharing(tmp_path):
    with a_house(tmp_path) as house:
        yield a_sharing(house)


@pytest.fixture
def season(kept, tmp_path):
    """Give a copy of the kept season."""
    with season_in_house(kept, tmp_path) as made:
        yield made


@pytest.fixture
def parcel(season):
    return season.parcel_to("Effie")
