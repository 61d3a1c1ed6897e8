"""The share-out from the terminal: worked out, confirmed once, and its working checked."""

import json

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.records import ALLOCATIONS, SHARE_OUTS, TASKS
from tests.app_fixtures import a_house
from tests.builders.season import MONDAY, a_season


@pytest.fixture
def folder(tmp_path):
    """A circle on its closing day."""
    there = tmp_path / "our-circle"
    there.mkdir()
    with a_house(there) as house:
        a_season(house, asked=2, count=3, confirmed=False)
    return there


def call(folder, *words):
    return CliRunner().invoke(
        main,
        ["--folder", str(folder), "share-out", *words],
        env={"EXCHANGE_TODAY": MONDAY.isoformat()},
    )


def rows(folder, repository):
    with a_house(folder) as house, house.books.reading() as tx:
        return repository.all(tx, 1)


def test_worked_out_it_is_shown_and_nothing_is_given(folder):
    result = call(folder, "work-out")

    assert result.exit_code == 0, result.output
    assert "THE SHARE-OUT" in result.stdout
    assert "must not be lost" in result.stdout
    assert rows(folder, ALLOCATIONS) == ()


def test_confirmed_it_is_given_and_a_plan_asked_for_and_not_twice(folder):
    call(folder, "work-out")
    first, again = call(folder, "confirm"), call(folder, "confirm")

    assert first.exit_code == 0, first.output
    assert first.stdout.startswith("3 plants are given")
    assert sum(one.count for one in rows(folder, ALLOCATIONS)) == 3
    assert [one.kind for one in rows(folder, TASKS)] == ["plan"]
    assert again.exit_code == 1
    assert again.stdout == ""
    assert "No share-out is open" in again.stderr


def test_confirming_before_working_out_ends_in_a_sentence(folder):
    result = call(folder, "confirm")

    assert result.exit_code == 1
    assert "Work the share-out out first" in result.stderr


def test_a_true_working_is_proven_and_a_changed_one_is_not(folder, tmp_path):
    call(folder, "work-out")
    (share_out,) = rows(folder, SHARE_OUTS)
    true, false = tmp_path / "working.json", tmp_path / "changed.json"
    true.write_text(json.dumps(share_out.working))
    changed = json.loads(json.dumps(share_out.working))
    _raise_first_value(changed)
    false.write_text(json.dumps(changed))

    checked, doubted = call(folder, "check", str(true)), call(folder, "check", str(false))

    assert checked.exit_code == 0, checked.output
    assert "proven" in checked.stdout
    assert doubted.exit_code == 1


def test_with_its_circle_a_working_is_compared_with_the_records(folder, tmp_path):
    call(folder, "work-out")
    (share_out,) = rows(folder, SHARE_OUTS)
    true = tmp_path / "working.json"
    true.write_text(json.dumps(share_out.working))

    same = call(folder, "check", str(true), "--circle", "")
    call(folder, "confirm")
    after = call(folder, "check", str(true), "--circle", "")

    for one in (same, after):
        assert one.exit_code == 0, one.output
        assert "what was given: the same as in the records" in one.stdout


def test_what_is_no_working_ends_in_a_sentence(folder, tmp_path):
    nonsense = tmp_path / "nonsense.json"
    nonsense.write_text("no working")

    result = call(folder, "check", str(nonsense))
    missing = call(folder, "check", str(tmp_path / "missing.json"))

    assert result.exit_code == 1
    assert "cannot be read" in result.stderr
    assert result.stdout == ""
    assert missing.exit_code == 2


def _raise_first_value(working):
    """Claim one more for the second rule than was found."""
    rule = working["rules"][1]
    rule["value"] += 1
