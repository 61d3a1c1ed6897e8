"""Setting up and running a circle from the terminal."""

import os
import re
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.records import Books
from exchange.records.upgrade import upgrade

ORGANISER = ("--organiser", "Ada", "--email", "ada@example.org", "--members", "12")


def call(folder: Path, *words: str):
    return CliRunner().invoke(main, ["--folder", str(folder), *words])


def init(folder: Path, name: str = "Our Circle"):
    return call(folder, "init", "--circle", name, *ORGANISER)


@pytest.fixture
def folder(tmp_path):
    there = tmp_path / "our-circle"
    result = init(there)
    assert result.exit_code == 0, result.output
    return there


def test_init_makes_folder_secrets_records_and_the_organisers_link(tmp_path):
    there = tmp_path / "our-circle"

    result = init(there)

    assert result.exit_code == 0, result.output
    assert re.search(r"http://127\.0\.0\.1:8080/join/[\w-]{40,}", result.output)
    assert (there / "circle.sqlite").is_file()
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in (there / "secrets").iterdir()}
    assert set(modes) == {"session_key", "password_salt", "link_key"}
    assert set(modes.values()) == {0o600}


def test_the_records_hold_addresses_and_are_readable_by_their_owner_only(tmp_path):
    there = tmp_path / "made-before"
    there.mkdir(mode=0o755)

    assert init(there).exit_code == 0

    assert stat.S_IMODE((there / "circle.sqlite").stat().st_mode) == 0o600


def test_init_says_how_to_serve_that_very_folder(tmp_path):
    result = init(tmp_path / "our circle")

    assert f"exchange --folder '{tmp_path}/our circle' serve" in result.output


def test_init_without_anybody_to_ask_takes_the_usual_number(tmp_path):
    words = ("--circle", "Ours", "--organiser", "Ada", "--email", "ada@example.org")

    assert call(tmp_path / "ours", "init", *words).exit_code == 0


def test_a_refused_organiser_leaves_no_circle_behind(tmp_path):
    words = ("init", "--circle", "Ours", "--members", "6", "--organiser", "Ada")

    refused = call(tmp_path / "ours", *words, "--email", "no address")
    again = call(tmp_path / "ours", *words, "--email", "ada@example.org")

    assert (refused.exit_code, again.exit_code) == (1, 0)


def test_a_database_that_is_away_is_told_in_a_sentence(tmp_path, monkeypatch):
    monkeypatch.setenv("EXCHANGE_DATABASE_URL", f"sqlite:///{tmp_path}/not/there.sqlite")

    result = init(tmp_path)

    assert result.exit_code == 1
    assert "database_url" in result.stderr
    assert isinstance(result.exception, SystemExit)


def test_a_circle_of_the_same_name_is_refused(folder):
    result = init(folder)

    assert result.exit_code == 1
    assert "There is a circle called Our Circle here already." in result.stderr


def test_a_second_circle_may_share_the_installation(folder):
    assert init(folder, "The Other Circle").exit_code == 0


def test_a_zone_that_does_not_exist_is_refused(tmp_path):
    result = call(tmp_path, "init", "--circle", "Ours", *ORGANISER, "--zone", "Europe/Ludlow")

    assert result.exit_code == 1
    assert "Europe/Ludlow" in result.stderr


def test_a_folder_without_circle_says_how_to_set_one_up(tmp_path):
    result = call(tmp_path, "invite", "ada@example.org")

    assert result.exit_code == 1
    assert "exchange init" in result.stderr


def test_invite_gives_a_fresh_link_to_who_has_not_joined(folder):
    first, second = (call(folder, "invite", "ADA@example.org") for _each in range(2))

    assert first.exit_code == 0
    assert "/join/" in first.output
    assert first.output != second.output


def test_invite_asks_for_a_name_where_nobody_has_the_address(folder):
    unknown = call(folder, "invite", "bert@example.org")
    named = call(folder, "invite", "bert@example.org", "--name", "Bert")

    assert (unknown.exit_code, named.exit_code) == (1, 0)
    assert "--name" in unknown.stderr
    assert "/join/" in named.output


def test_invite_asks_which_of_several_circles(folder):
    init(folder, "The Other Circle")

    unclear = call(folder, "invite", "ada@example.org")
    clear = call(folder, "invite", "ada@example.org", "--circle", "Our Circle")

    assert (unclear.exit_code, clear.exit_code) == (1, 0)
    assert "The Other Circle" in unclear.stderr


def test_a_job_is_run_by_name(folder):
    result = call(folder, "run", "letters")

    assert result.exit_code == 0, result.output
    assert result.output == "0 sent, 0 to be tried later, 0 refused\n"


def test_the_jobs_are_listed(folder):
    result = call(folder, "run", "--list")

    assert result.exit_code == 0
    assert "letters" in result.output
    assert "Mail the letters that wait." in result.output


def test_an_unknown_job_is_a_mistake_in_the_call(folder):
    result = call(folder, "run", "dinner")

    assert result.exit_code == 2
    assert "letters" in result.stderr


def test_records_are_checked(folder, tmp_path):
    sound = call(folder, "records", "check")
    empty = call(tmp_path / "nothing", "records", "check")

    assert sound.exit_code == 0
    assert "as they should be" in sound.output
    assert empty.exit_code == 1
    assert "exchange init" in empty.stderr


def test_records_are_brought_up_to_date(tmp_path):
    upgraded = call(tmp_path / "new", "records", "upgrade")

    assert upgraded.exit_code == 0
    assert call(tmp_path / "new", "records", "check").exit_code == 0


def test_older_records_are_copied_beside_themselves_before_they_are_brought_up_to_date(tmp_path):
    books = Books(f"sqlite:///{tmp_path / 'circle.sqlite'}")
    upgrade(books, "0003")
    books.close()

    upgraded = call(tmp_path, "records", "upgrade")

    (copy,) = tmp_path.glob("circle.sqlite.before-*")
    assert upgraded.exit_code == 0
    assert f"A copy of the records as they were is kept in {copy}." in upgraded.output
    assert call(tmp_path, "records", "check").exit_code == 0
    assert "A copy" not in call(tmp_path, "records", "upgrade").output


def test_serve_shows_the_pages_with_a_worker_and_ends_cleanly(folder, tmp_path):
    log = tmp_path / "log"
    with log.open("w") as written:
        serving = subprocess.Popen(
            [Path(sys.executable).parent / "exchange", "--folder", folder, "serve"],
            env={**os.environ, "EXCHANGE_PORT": "0", "PYTHONUNBUFFERED": "1"},
            stdout=written,
            stderr=subprocess.STDOUT,
        )
    try:
        address = _address(log)
        with urlopen(f"{address}/healthz") as answer:
            healthy = answer.status, answer.read()
        with urlopen(f"{address}/todo") as answer:
            asked = answer.url
        with pytest.raises(HTTPError) as missing:
            urlopen(f"{address}/nothing-here")
        missing.value.close()
    finally:
        serving.send_signal(signal.SIGTERM)
        status = serving.wait(15)

    assert healthy == (200, b"ok\n")
    assert asked.startswith(f"{address}/sign-in")
    assert missing.value.code == 404
    assert status == 0, log.read_text()
    assert (folder / "jobs.sqlite").is_file()


def _address(log: Path) -> str:
    """Give the address the server says it listens on."""
    ends = time.monotonic() + 20
    while time.monotonic() < ends:
        found = re.search(r"http://127\.0\.0\.1:[1-9]\d*", log.read_text())
        if found:
            return found.group()
        time.sleep(0.05)
    raise AssertionError(log.read_text())
