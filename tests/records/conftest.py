"""What tests of the special queries rest on: two circles in one database, in one transaction."""

import pytest

from tests.app_fixtures import a_house, both_databases, fresh_database
from tests.builders.offers import a_ring

TESTED_IN = {
    "held": "../actions/circle/test_page_held.py",
    "circles": "test_transaction.py",
    "households": "../actions/sharing/test_check_records.py",
    "varieties": "../actions/growing/test_merge_varieties.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""


@pytest.fixture(scope="module", params=both_databases)
def house(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("records")
    with fresh_database(request.param, folder) as address, a_house(folder, address) as made:
        yield made


@pytest.fixture
def circle(house):
    return a_ring(house)


@pytest.fixture
def other(house):
    return a_ring(house)


@pytest.fixture
def tx(house, circle, other):
    with house.books.writing() as opened:
        yield opened
