"""The circle's lists from the terminal."""

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.sheets.csv_file import csv_rows
from exchange.words.circle.lists import HEADS, TITLES
from tests.app_fixtures import a_house, ring


@pytest.fixture
def folder(tmp_path):
    with a_house(tmp_path) as house:
        ring(house)
    return tmp_path


def call(folder, *words):
    return CliRunner().invoke(main, ["--folder", str(folder), "list", *words])


@pytest.mark.parametrize("name", TITLES)
def test_each_list_comes_as_csv(folder, name):
    result = call(folder, name)

    assert result.exit_code == 0, result.output
    assert csv_rows(result.stdout_bytes)[0] == list(HEADS[name])


def test_and_as_text(folder):
    result = call(folder, "members", "--text")

    assert result.exit_code == 0
    assert result.stdout.startswith("Cuthbert Pellow. Household: Pellow 2. Town: Penzance.")


def test_and_as_a_workbook(folder):
    result = call(folder, "varieties", "--xlsx")

    assert result.exit_code == 0
    assert result.stdout_bytes.startswith(b"PK")


def test_another_list_is_wrong_usage(folder):
    result = call(folder, "orchards")

    assert result.exit_code == 2
    assert "spares" in result.stderr
