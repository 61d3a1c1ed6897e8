"""Restoring: the very records, in a new or empty folder, all or nothing, and brought up to date."""

import lzma
import sqlite3
import stat
from contextlib import closing

import pytest
from sqlalchemy import create_engine

from exchange.actions.circle.backup import back_up
from exchange.actions.circle.erasures import DAILY, ERASURES, read_erasures
from exchange.actions.circle.leaving import Farewell, leave
from exchange.actions.circle.restore import RestoreRefusedError, restore
from exchange.actions.kernel.actor import clock_actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.records import MEMBERS, backup_file
from exchange.records.backup_file import FORM, BackupAbout, write_backup
from exchange.records.upgrade import newest
from exchange.settings import secrets_in
from tests.app_fixtures import NOW, a_house, ring
from tests.records.kept_circles.kept import FOLDER
from tests.records.kept_circles.raw import tables_of
from tests.records.test_kept_circles import lost


@pytest.fixture
def house(tmp_path):
    folder = tmp_path / "data"
    folder.mkdir()
    secrets_in(folder)
    with a_house(folder) as made:
        ring(made)
        yield made


@pytest.fixture
def written(house, tmp_path):
    back_up(house, tmp_path / "a.backup", NOW, secrets=True)
    return tmp_path / "a.backup"


def rows_in(file):
    engine = create_engine(f"sqlite:///{file}")
    try:
        return tables_of(engine)
    finally:
        engine.dispose()


def test_every_table_is_as_it_was(house, written, tmp_path):
    restored = restore(written, tmp_path / "again")

    rows = rows_in(tmp_path / "again" / "circle.sqlite")
    assert restored.circles == ("The Lowmoor Circle",)
    assert restored.made_at == NOW
    assert rows == rows_in(house.folder / "circle.sqlite")
    assert len(rows["member"]) == 3


def test_the_secrets_are_there_and_private(house, written, tmp_path):
    there = tmp_path / "again"

    restore(written, there)

    assert secrets_in(there) == secrets_in(house.folder)
    assert stat.S_IMODE(there.stat().st_mode) == 0o700
    assert stat.S_IMODE((there / "secrets").stat().st_mode) == 0o700
    files = [path for path in there.rglob("*") if path.is_file()]
    assert {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}
    assert {path.name for path in there.iterdir()} == {"circle.sqlite", "secrets"}


def test_without_secrets_it_says_so(house, tmp_path):
    back_up(house, tmp_path / "bare", NOW, secrets=False)

    restored = restore(tmp_path / "bare", tmp_path / "again")

    assert not restored.secrets
    assert [path.name for path in (tmp_path / "again").iterdir()] == ["circle.sqlite"]


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ("port = 8081\n", "settings.toml"),
        ('database_url = "sqlite:///elsewhere.sqlite"\n', "settings-then.toml"),
        ("port = = 8081\n", "settings-then.toml"),
    ],
)
def test_settings_that_lead_elsewhere_are_put_beside(house, tmp_path, settings, name):
    (house.folder / "settings.toml").write_text(settings)
    back_up(house, tmp_path / "a", NOW, secrets=True)

    restored = restore(tmp_path / "a", tmp_path / "again")

    (found,) = (tmp_path / "again").glob("settings*")
    assert (found.name, found.read_text()) == (name, settings)
    assert restored.settings_then == (name == "settings-then.toml")


def test_an_empty_folder_will_do(written, tmp_path):
    (tmp_path / "again").mkdir()

    assert restore(written, tmp_path / "again").revision == newest()


def test_nothing_is_written_over(written, tmp_path):
    (tmp_path / "again").mkdir()
    (tmp_path / "again" / "settings.toml").write_text("port = 1\n")

    with pytest.raises(RestoreRefusedError, match="is not empty"):
        restore(written, tmp_path / "again")

    assert [path.name for path in (tmp_path / "again").iterdir()] == ["settings.toml"]


def test_a_damaged_byte_is_refused_and_leaves_nothing(written, tmp_path):
    whole = written.read_bytes()
    middle = len(whole) // 2
    written.write_bytes(whole[:middle] + bytes([whole[middle] ^ 4]) + whole[middle + 1 :])

    with pytest.raises(RestoreRefusedError, match="damaged"):
        restore(written, tmp_path / "again")

    assert not (tmp_path / "again").exists()


def test_what_is_no_backup_is_refused(tmp_path):
    (tmp_path / "letter.txt").write_text("Dear all, I have three rooted cuttings to spare.")

    with pytest.raises(RestoreRefusedError, match="not a backup"):
        restore(tmp_path / "letter.txt", tmp_path / "again")

    assert not (tmp_path / "again").exists()


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(RestoreRefusedError, match="No such file"):
        restore(tmp_path / "none", tmp_path / "again")


def packed(tmp_path, database, revision):
    file = tmp_path / "made.backup"
    about = BackupAbout(FORM, revision, NOW.isoformat(), secrets=False)
    write_backup(file, about, {"circle.sqlite": database})
    return file


def test_records_that_are_not_sound_are_refused(tmp_path):
    with closing(sqlite3.connect(tmp_path / "loose")) as connection:
        connection.executescript(
            "CREATE TABLE a (id INTEGER PRIMARY KEY);"
            "CREATE TABLE b (a_id INTEGER REFERENCES a (id)); INSERT INTO b VALUES (7);"
        )

    with pytest.raises(RestoreRefusedError, match="1 rows point at nothing"):
        restore(packed(tmp_path, tmp_path / "loose", newest()), tmp_path / "again")


def test_records_of_a_newer_version_are_refused(house, tmp_path):
    file = packed(tmp_path, house.folder / "circle.sqlite", "9999")

    with pytest.raises(RestoreRefusedError, match="newer version"):
        restore(file, tmp_path / "again")

    assert not (tmp_path / "again").exists()


def test_a_restoring_that_breaks_leaves_an_empty_folder_empty(written, tmp_path, monkeypatch):
    (tmp_path / "again").mkdir()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup_file, "unpack", full)

    with pytest.raises(RefusedError, match="No space left"):
        restore(written, tmp_path / "again")

    assert list((tmp_path / "again").iterdir()) == []


def test_an_old_circle_is_brought_up_to_date_without_loss(tmp_path):
    old = tmp_path / "old.sqlite"
    old.write_bytes(lzma.decompress((FOLDER / "0004.sqlite.xz").read_bytes()))
    before = rows_in(old)

    restored = restore(packed(tmp_path, old, "0004"), tmp_path / "again")

    assert (restored.revision, restored.newest) == ("0004", newest())
    assert lost(before, rows_in(tmp_path / "again" / "circle.sqlite")) == []
    assert backup_file.revision_of(tmp_path / "again" / "circle.sqlite") == newest()


@pytest.fixture
def erased_later(house, written):
    """Erase a member after the backup was made, and lay the list beside the backup."""
    clock = clock_actor(house, 1)
    with house.books.reading() as tx:
        (effie,) = [one for one in MEMBERS.all(tx, 1) if one.first_name == "Effie"]
    leave(clock, effie.id, NOW, Farewell(erase=True))
    beside = written.with_name(ERASURES)
    beside.write_bytes((house.folder / DAILY / ERASURES).read_bytes())
    return beside


def is_known(folder):
    return "Effie" in repr(rows_in(folder / "circle.sqlite"))


def test_whoever_was_erased_after_the_backup_is_erased_again(written, erased_later, tmp_path):
    restored = restore(written, tmp_path / "again")

    assert restored.erased == 1
    assert not is_known(tmp_path / "again")
    assert read_erasures(tmp_path / "again" / DAILY / ERASURES) == read_erasures(erased_later)


def test_without_the_list_a_backup_brings_everybody_back(written, erased_later, tmp_path):
    erased_later.unlink()

    assert restore(written, tmp_path / "again").erased == 0
    assert is_known(tmp_path / "again")


def test_the_list_can_lie_elsewhere_and_has_to_be_there_when_it_is_named(
    written, erased_later, tmp_path
):
    elsewhere = erased_later.rename(tmp_path / "kept.jsonl")

    with pytest.raises(RestoreRefusedError, match="There is no file"):
        restore(written, tmp_path / "again", tmp_path / "missing.jsonl")
    assert restore(written, tmp_path / "again", elsewhere).erased == 1


def test_a_list_that_is_none_stops_the_restoring(written, tmp_path):
    written.with_name(ERASURES).write_text("nothing of the kind\n")

    with pytest.raises(RestoreRefusedError, match="no list of erasures"):
        restore(written, tmp_path / "again")


def test_the_list_tells_no_name(erased_later):
    assert "Effie" not in erased_later.read_text()
    assert "Pellow" not in erased_later.read_text()
