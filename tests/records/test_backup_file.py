"""The file of a backup: every byte counts, and what is in it is what was put in."""

import stat
import subprocess
import sys
from dataclasses import replace

import pytest

from exchange.records.backup_file import (
    FORM,
    BackupAbout,
    DamagedBackupError,
    NoBackupError,
    opened_backup,
    same_content,
    unpack,
    write_backup,
)

ABOUT = BackupAbout(FORM, "0004", "2027-04-05T03:00:00+00:00", secrets=False)


@pytest.fixture
def content(tmp_path):
    file = tmp_path / "content"
    file.write_bytes(b"three rooted Lowmoor Ember, " * 20)
    return file


@pytest.fixture
def written(tmp_path, content):
    file = tmp_path / "written.backup"
    write_backup(file, ABOUT, {"circle.sqlite": content})
    return file


def test_what_was_put_in_is_read_back(written, content, tmp_path):
    with opened_backup(written) as (about, packed):
        unpack(packed, "circle.sqlite", tmp_path / "out")
        same = same_content(packed, "circle.sqlite", content)

    assert about == ABOUT
    assert same
    assert (tmp_path / "out").read_bytes() == content.read_bytes()


def test_other_content_is_told_from_it(written, content):
    content.write_bytes(content.read_bytes()[:-1] + b"!")

    with opened_backup(written) as (_about, packed):
        assert not same_content(packed, "circle.sqlite", content)


def test_it_and_what_is_unpacked_are_private_to_their_owner(written, tmp_path):
    with opened_backup(written) as (_about, packed):
        unpack(packed, "circle.sqlite", tmp_path / "out")

    assert stat.S_IMODE(written.stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "out").stat().st_mode) == 0o600


def test_every_single_byte_that_differs_is_noticed(written):
    whole = written.read_bytes()
    unnoticed = []

    for at in range(len(whole)):
        written.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        try:
            with opened_backup(written):
                unnoticed.append(at)
        except (NoBackupError, DamagedBackupError):
            pass

    assert len(whole) > 300
    assert unnoticed == []


@pytest.mark.parametrize("cut", [1, 64, 100])
def test_a_file_that_was_cut_short_is_damaged(written, cut):
    written.write_bytes(written.read_bytes()[:-cut])

    with pytest.raises(DamagedBackupError), opened_backup(written):
        pass


def test_a_file_that_something_was_added_to_is_damaged(written):
    written.write_bytes(written.read_bytes() + b"\n")

    with pytest.raises(DamagedBackupError), opened_backup(written):
        pass


@pytest.mark.parametrize("other", [b"", b"no backup", b"PK\x03\x04", b"SQLite format 3\x00" * 9])
def test_another_file_is_no_backup(tmp_path, other):
    (tmp_path / "other").write_bytes(other)

    with pytest.raises(NoBackupError), opened_backup(tmp_path / "other"):
        pass


def test_a_later_form_is_not_read_as_this_one(tmp_path, content):
    write_backup(tmp_path / "later", replace(ABOUT, form=FORM + 1), {"circle.sqlite": content})

    with pytest.raises(NoBackupError), opened_backup(tmp_path / "later"):
        pass


def test_a_file_that_is_there_is_not_written_over(written, content):
    before = written.read_bytes()

    with pytest.raises(FileExistsError):
        write_backup(written, ABOUT, {"circle.sqlite": content})

    assert written.read_bytes() == before


def test_other_programs_read_it_as_a_zip_file(written):
    listed = subprocess.run(
        [sys.executable, "-m", "zipfile", "--list", str(written)],
        capture_output=True,
        text=True,
        check=True,
    )

    assert "circle.sqlite" in listed.stdout
