"""A circle on a memory stick: no second names for files, no owners, odd names of folders."""

import os
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.settings import SettingRefused, secret_files, secrets_in

EVERYBODYS = 0o777


@pytest.fixture
def stick(monkeypatch):
    """Let files have no second name, and modes that say everybody may, whatever is asked for."""
    really = Path.stat

    def no_link(_source, _target):
        raise PermissionError(1, "Operation not permitted")

    def everybodys(self, *, follow_symlinks=True):
        told = really(self, follow_symlinks=follow_symlinks)
        return os.stat_result((told.st_mode | EVERYBODYS, *told[1:]))

    monkeypatch.setattr(os, "link", no_link)
    monkeypatch.setattr(Path, "stat", everybodys)


def names_in(folder):
    return sorted(path.name for path in folder.iterdir())


def test_secrets_are_made_and_kept_where_there_are_no_modes_and_no_links(stick, tmp_path):
    first = secrets_in(tmp_path)

    assert secrets_in(tmp_path) == first
    assert names_in(tmp_path / "secrets") == ["link_key", "password_salt", "session_key"]


def test_two_first_starts_at_once_agree_there_too(stick, tmp_path):
    with ThreadPoolExecutor(8) as pool:
        found = set(pool.map(lambda _: secrets_in(tmp_path), range(8)))

    assert len(found) == 1


def test_a_turn_that_never_ends_is_told(stick, tmp_path, monkeypatch):
    monkeypatch.setattr(secret_files, "LOOKS", 2)
    (tmp_path / "secrets" / ".session_key.turn").mkdir(parents=True)

    with pytest.raises(SettingRefused, match="remove that folder"):
        secrets_in(tmp_path)

    assert names_in(tmp_path / "secrets") == [".session_key.turn"]


def test_where_modes_are_kept_an_open_secret_is_still_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "link", lambda *_names: (_ for _ in ()).throw(OSError(1, "no")))
    secrets_in(tmp_path)
    path = tmp_path / "secrets" / "link_key"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    path.chmod(0o640)

    with pytest.raises(SettingRefused, match="0600"):
        secrets_in(tmp_path)


@pytest.mark.parametrize(
    "name", ["Käte’s Kreis", "our circle  2", "Blumen & Ärger #1", "50% off", "“quoted” ö!"]
)
def test_a_folder_may_have_any_name(stick, tmp_path, name):
    folder = tmp_path / name
    words = ["--circle", "Ours", "--organiser", "Ada", "--email", "ada@example.org"]

    def call(*more):
        return CliRunner().invoke(main, ["--folder", str(folder), *more])

    made, checked = call("init", *words), call("records", "check")
    linked, kept = call("invite", "ada@example.org"), call("backup", str(folder / "kept ü.backup"))
    restored = CliRunner().invoke(
        main, ["--folder", str(tmp_path / f"{name} 2"), "restore", str(folder / "kept ü.backup")]
    )

    for result in (made, checked, linked, kept, restored):
        assert result.exit_code == 0, result.output
    assert (folder / "circle.sqlite").is_file()
    assert "/join/" in linked.output


def test_a_question_mark_in_a_folders_name_is_refused_and_nothing_is_made(tmp_path):
    words = ["init", "--circle", "Ours", "--organiser", "Ada", "--email", "ada@example.org"]

    result = CliRunner().invoke(main, ["--folder", str(tmp_path / "why?"), *words])

    assert result.exit_code == 1
    assert "without a question mark" in result.stderr
    assert names_in(tmp_path) == []
