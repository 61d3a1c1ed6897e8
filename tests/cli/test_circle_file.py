"""A circle as one file from the terminal, and back."""

import json

import pytest
from click.testing import CliRunner

from exchange.cli import main
from tests.app_fixtures import a_house, fresh_database, ring
from tests.records.kept_circles.raw import tables_of


@pytest.fixture
def circle(tmp_path):
    folder = tmp_path / "ours"
    folder.mkdir()
    with a_house(folder) as house:
        yield ring(house)


def call(*words, given=None):
    return CliRunner().invoke(main, ["--folder", *map(str, words)], input=given)


def test_a_circle_goes_out_and_in_by_streams(circle, tmp_path):
    out = call(circle.house.folder, "export", "-")
    back = call(tmp_path / "again", "import", "-", given=out.stdout_bytes)
    checked = call(tmp_path / "again", "records", "check")

    assert json.loads(out.stdout)["circle"] == "The Lowmoor Circle"
    assert (out.exit_code, back.exit_code, checked.exit_code) == (0, 0, 0)
    assert "rows taken in" in back.output


@pytest.mark.postgresql
def test_a_circle_moves_from_one_database_to_the_other(circle, tmp_path, monkeypatch):
    here, file = circle.house.folder, tmp_path / "ours.json"
    assert call(here, "export", file).exit_code == 0

    with fresh_database("postgresql", tmp_path) as address:
        monkeypatch.setenv("EXCHANGE_DATABASE_URL", address)
        moved = call(here, "import", file)
        again = call(here, "export", tmp_path / "again.json")
        with a_house(here, address) as house:
            there = tables_of(house.books.engine)

    assert (moved.exit_code, again.exit_code) == (0, 0), moved.output
    assert there == tables_of(circle.house.books.engine)
    tables = [json.loads(one.read_text())["tables"] for one in (file, tmp_path / "again.json")]
    assert tables[0] == tables[1]


def test_what_cannot_be_done_ends_with_status_1_and_a_sentence(circle, tmp_path):
    here = circle.house.folder
    (tmp_path / "file").write_text("mine")

    results = [
        call(here, "export", tmp_path / "file"),
        call(here, "export", tmp_path / "none" / "file"),
        call(tmp_path / "again", "import", tmp_path / "file"),
        call(tmp_path / "again", "import", tmp_path / "none"),
    ]

    assert [one.exit_code for one in results] == [1, 1, 1, 1]
    assert all(isinstance(one.exception, SystemExit) for one in results)
    for one, sentence in zip(
        results, ["already", "cannot be written", "not JSON", "cannot be read"], strict=True
    ):
        assert sentence in one.stderr
