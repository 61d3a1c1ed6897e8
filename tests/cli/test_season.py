"""The season's commands: forecast, plan, papers and the jobs of the season, on a small circle."""

from datetime import timedelta

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.records import LETTERS, PARCELS, circles
from tests.app_fixtures import NOW, a_house
from tests.builders.season import MONDAY, a_season, tell_weather


@pytest.fixture
def folder(tmp_path):
    """A circle that stands on Monday 5 April, its plants given but not planned."""
    there = tmp_path / "our-circle"
    there.mkdir()
    with a_house(there) as house:
        season = a_season(house)
        tell_weather(season, NOW - timedelta(hours=12))
        with house.books.writing() as tx:
            circles.change(tx, season.circle_id, fixed_today=MONDAY)
    return there


def call(folder, *words):
    return CliRunner().invoke(
        main, ["--folder", str(folder), *words], env={"EXCHANGE_TODAY": MONDAY.isoformat()}
    )


def rows(folder, repository, **where):
    with a_house(folder) as house, house.books.reading() as tx:
        return repository.all(tx, 1, **where)


def test_plan_prints_every_parcel_with_its_reasons(folder):
    result = call(folder, "plan")

    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    assert "THE PLAN" in result.stdout
    for parcel in rows(folder, PARCELS):
        assert parcel.code in result.stdout


def test_papers_are_written_and_counted(folder, tmp_path):
    call(folder, "plan")
    out = tmp_path / "papers"
    result = call(folder, "papers", "--out", str(out))

    assert result.exit_code == 0, result.output
    written = sorted(path.name for path in out.glob("*.pdf"))
    assert result.stdout.startswith(f"{len(written)} files")
    assert len(written) == 5
    assert all(path.read_bytes().startswith(b"%PDF-") for path in out.glob("*.pdf"))


def test_papers_that_cannot_be_written_end_in_a_sentence(folder, tmp_path):
    call(folder, "plan")
    in_the_way = tmp_path / "file"
    in_the_way.write_text("in the way")
    result = call(folder, "papers", "--out", str(in_the_way / "papers"))

    assert result.exit_code == 1
    assert result.stdout == ""
    assert "Cannot write to" in result.stderr


def test_a_circle_that_is_not_there_is_a_mistake_in_the_call(folder):
    for command in ("plan", "papers", "forecast"):
        result = call(folder, command, "--circle", "No Such Circle")
        assert result.exit_code == 2
        assert "The Lowmoor Circle" in result.stderr
        assert result.stdout == ""


def test_a_folder_without_a_circle_says_what_to_do(tmp_path):
    for command in ("plan", "papers", "forecast"):
        result = call(tmp_path / "nothing", command)
        assert result.exit_code == 1
        assert "exchange init" in result.stderr
        assert result.stdout == ""


def test_pack_frost_and_questions_are_run_by_name(folder):
    call(folder, "plan")
    told = {name: call(folder, "run", name) for name in ("pack", "frost", "questions")}

    for name, result in told.items():
        assert result.exit_code == 0, (name, result.output)
        assert result.stdout.startswith("The Lowmoor Circle: ")
    assert "to pack" in told["pack"].stdout
    assert "places told" in told["frost"].stdout
    assert "senders asked" in told["questions"].stdout
    assert {one.kind for one in rows(folder, LETTERS)} >= {"share_out"}


def test_an_unknown_job_is_a_mistake_and_the_jobs_are_listed(folder):
    unknown = call(folder, "run", "no-such-job")
    listed = call(folder, "run", "--list")

    assert unknown.exit_code == 2
    assert "no-such-job" in unknown.stderr
    assert listed.exit_code == 0
    assert {"letters", "forecasts", "plan", "pack", "frost", "questions"} <= set(
        listed.stdout.split()
    )
