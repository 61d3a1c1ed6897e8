"""Backup and restoring from the terminal, with other processes writing meanwhile."""

import os
import subprocess
import sys
from collections import Counter

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.records import DEEDS, Books
from tests.app_fixtures import a_house, ring
from tests.house import ROOT, run, said
from tests.programs import program

WRITES = """
import sys
from datetime import UTC, datetime
from exchange.records import DEEDS, Books

books = Books(sys.argv[1])
now = datetime(2027, 4, 5, tzinfo=UTC)
number = 0
while True:
    number += 1
    with books.writing() as tx:
        for what in ("this half", "that half"):
            DEEDS.add(tx, int(sys.argv[2]), actor_id=None, for_member_id=None,
                      act=f"pair {number}", what=what * 40, done_at=now)
    print(number, flush=True)
"""


@pytest.fixture
def circle(tmp_path):
    """Give a circle in a data folder of its own."""
    folder = tmp_path / "our circle"
    folder.mkdir()
    with a_house(folder) as house:
        yield ring(house)


def folder_of(circle):
    return str(circle.house.folder)


def call(*words, given=None):
    return CliRunner().invoke(main, list(words), input=given)


def pairs_in(folder, circle_id):
    books = Books(f"sqlite:///{folder / 'circle.sqlite'}")
    with books.reading() as tx:
        acts = [one.act for one in DEEDS.all(tx, circle_id)]
    books.close()
    return Counter(act for act in acts if act.startswith("pair"))


def test_a_backup_holds_one_moment_while_another_process_writes(circle, tmp_path):
    command = [sys.executable, "-c", WRITES, circle.house.books.url, str(circle.circle_id)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment, text=True) as writer:
        try:
            counts = []
            for name in ("first", "second", "third"):
                before = int(writer.stdout.readline())
                file = str(tmp_path / name)
                done = run("exchange", "--folder", folder_of(circle), "backup", file)
                assert done.returncode == 0, said(done)
                again = run(
                    "exchange", "--folder", str(tmp_path / f"{name} again"), "restore", file
                )
                assert again.returncode == 0, said(again)
                pairs = pairs_in(tmp_path / f"{name} again", circle.circle_id)
                assert set(pairs.values()) == {2}
                assert len(pairs) >= before
                counts.append(len(pairs))
            assert writer.poll() is None
        finally:
            writer.kill()

    assert counts[0] < counts[1] < counts[2]


def test_what_is_restored_starts_and_is_sound(circle, tmp_path):
    there = str(tmp_path / "again")
    made = call("--folder", folder_of(circle), "backup", str(tmp_path / "a.backup"))
    restored = call("--folder", there, "restore", str(tmp_path / "a.backup"))
    checked = call("--folder", there, "records", "check")

    assert (made.exit_code, restored.exit_code, checked.exit_code) == (0, 0, 0)
    assert made.stdout == ""
    assert "read back" in made.stderr
    assert "The Lowmoor Circle" in restored.output
    assert f"exchange --folder {there} serve" in restored.output


def piped(first, second):
    """Run two programs, the first one's output going into the second; give how both ended."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(first, stdout=subprocess.PIPE, env=environment) as writer:
        reader = subprocess.run(second, stdin=writer.stdout, env=environment, check=False)
        writer.stdout.close()
    return writer.returncode, reader.returncode


def test_a_backup_goes_through_an_encryption_program_and_back(circle, tmp_path):
    keys, locked = tmp_path / "keys", tmp_path / "locked"
    keys.mkdir(mode=0o700)
    home = ("--homedir", str(keys))
    secret = ("--batch", "--quiet", "--pinentry-mode", "loopback", "--passphrase", "eleven pots")
    gpg = [program("gpg"), *home, *secret]
    exchange = [sys.executable, "-c", "from exchange.cli import main; main()", "--folder"]
    try:
        there = piped(
            [*exchange, folder_of(circle), "backup", "-"],
            [*gpg, "--symmetric", "--output", str(locked)],
        )
        back = piped(
            [*gpg, "--decrypt", str(locked)], [*exchange, str(tmp_path / "again"), "restore", "-"]
        )
    finally:
        subprocess.run([program("gpgconf"), *home, "--kill", "all"], check=False)

    assert (there, back) == ((0, 0), (0, 0))
    assert not locked.read_bytes().startswith(b"PK")
    assert (tmp_path / "again" / "circle.sqlite").is_file()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("backup", "{there}/a.backup"), "No such file or directory"),
        (("backup", "{file}"), "There is a file"),
        (("restore", "{file}"), "is not empty"),
    ],
)
def test_what_cannot_be_done_ends_with_status_1_and_a_sentence(circle, tmp_path, words, sentence):
    (tmp_path / "file").write_text("mine")
    filled = [word.format(there=tmp_path / "none", file=tmp_path / "file") for word in words]

    result = call("--folder", folder_of(circle), *filled)

    assert result.exit_code == 1
    assert sentence in result.stderr
    assert result.stdout == ""
    assert isinstance(result.exception, SystemExit)


def test_what_is_no_backup_is_refused_with_status_1(tmp_path):
    (tmp_path / "file").write_text("mine")

    result = call("--folder", str(tmp_path / "again"), "restore", str(tmp_path / "file"))

    assert result.exit_code == 1
    assert "not a backup" in result.stderr


def test_a_folder_without_leave_is_told(circle, monkeypatch):
    def refused(*_args, **_kwargs):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("exchange.records.backup_file.os.open", refused)

    result = call("--folder", folder_of(circle), "backup", "a.backup")

    assert result.exit_code == 1
    assert "Permission denied" in result.stderr


def test_nothing_is_restored_beside_another_database(tmp_path, monkeypatch):
    monkeypatch.setenv("EXCHANGE_DATABASE_URL", f"sqlite:///{tmp_path / 'other.sqlite'}")

    result = call("--folder", str(tmp_path / "again"), "restore", "a.backup")

    assert result.exit_code == 1
    assert "database_url" in result.stderr


def test_without_file_the_call_is_wrong():
    assert [call(name).exit_code for name in ("backup", "restore")] == [2, 2]


def test_the_job_of_the_day_is_run_by_name(circle):
    result = call("--folder", folder_of(circle), "run", "backup")

    (made,) = (circle.house.folder / "backups").iterdir()
    assert result.exit_code == 0, result.output
    assert f"{made.name} written" in result.output
