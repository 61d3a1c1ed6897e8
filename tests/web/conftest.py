"""What tests of pages rest on: an installation per module, and in it a circle per test.

A module that needs others redefines the fixture of that name: other settings in
`installation`, other people in `circle`, another season in `kept`.
"""

from secrets import token_hex

import pytest

from tests.app_fixtures import NOW, Visitor, ring, site
from tests.builders.season_kept import season_on_site


@pytest.fixture(scope="module")
def installation(tmp_path_factory):
    with site(tmp_path_factory.mktemp("pages"), public_url="http://circle.example") as made:
        yield made


@pytest.fixture
def here(installation):
    installation.clock.at = NOW
    return installation


@pytest.fixture
def circle(here):
    """Give a circle whose name and whose people's surname no other test has."""
    mark = token_hex(4)
    return ring(here.house, f"The Lowmoor Circle {mark}", surname=f"Pellow{mark}")


@pytest.fixture
def winnie(here, circle):
    return Visitor(here, circle["Winnie"])


@pytest.fixture
def cuthbert(here, circle):
    return Visitor(here, circle["Cuthbert"])


@pytest.fixture
def effie(here, circle):
    return Visitor(here, circle["Effie"])


@pytest.fixture
def both(kept, tmp_path):
    """Give a copy of the kept season: its pages, and the season itself."""
    with season_on_site(kept, tmp_path) as made:
        yield made


@pytest.fixture
def season(both):
    return both[1]
