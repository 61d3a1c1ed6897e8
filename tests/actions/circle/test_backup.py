"""Backups: one moment of the records, checked, daily, and ended on their day."""

import errno
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from io import BytesIO

import pytest

from exchange.actions.circle import backup
from exchange.actions.circle.backup import (
    BackupRefusedError,
    back_up,
    is_backup_due,
    keep_daily_backup,
    without_backup_since,
)
from exchange.actions.circle.erasures import DAILY
from exchange.records import backup_file, circles
from exchange.settings import secrets_in
from tests.app_fixtures import NOW, a_house, fresh_database, ring


@pytest.fixture
def house(tmp_path):
    folder = tmp_path / "data"
    folder.mkdir()
    secrets_in(folder)
    (folder / "settings.toml").write_text("port = 8081\n")
    with a_house(folder, backups_kept=3) as made:
        ring(made)
        yield made


def names_in(source):
    with backup_file.opened_backup(source) as (_about, packed):
        return set(packed.namelist())


def left_in(folder):
    return sorted(path.name for path in folder.rglob("*") if ".backup" in path.name)


def at(day):
    return datetime(2027, 4, day, 0, 1, tzinfo=UTC)


def daily(house):
    return sorted(path.name for path in (house.folder / "backups").iterdir())


def test_the_secrets_go_with_it_or_not_as_asked(house, tmp_path):
    back_up(house, tmp_path / "with", NOW, secrets=True)
    back_up(house, tmp_path / "without", NOW, secrets=False)

    secret = {f"secrets/{name}" for name in ("session_key", "password_salt", "link_key")}
    assert names_in(tmp_path / "without") == {"about.json", "circle.sqlite"}
    assert names_in(tmp_path / "with") - names_in(tmp_path / "without") == {
        *secret,
        "settings.toml",
    }


def test_a_stream_gets_the_same_as_a_file(house, tmp_path):
    stream = BytesIO()

    back_up(house, tmp_path / "file", NOW, secrets=True)
    back_up(house, stream, NOW, secrets=True)

    (tmp_path / "stream").write_bytes(stream.getvalue())
    assert names_in(tmp_path / "stream") == names_in(tmp_path / "file")
    assert left_in(house.folder) == []


def test_a_file_that_is_there_is_left_as_it_is(house, tmp_path):
    (tmp_path / "there").write_text("mine")

    with pytest.raises(BackupRefusedError, match="already"):
        back_up(house, tmp_path / "there", NOW, secrets=True)

    assert (tmp_path / "there").read_text() == "mine"


def full(*_):
    raise OSError(errno.ENOSPC, "No space left on device")


@pytest.mark.parametrize("where", ["write_backup", "same_content"])
def test_without_room_nothing_of_it_is_left(house, tmp_path, monkeypatch, where):
    monkeypatch.setattr(backup_file, where, full)

    with pytest.raises(BackupRefusedError, match="No space left on device"):
        back_up(house, tmp_path / "a.backup", NOW, secrets=True)

    assert left_in(tmp_path) == []


def test_a_backup_that_does_not_read_back_is_not_kept(house, tmp_path, monkeypatch):
    whole = backup_file.write_backup

    def spoilt(file, about, contents):
        whole(file, about, contents)
        data = file.read_bytes()
        file.write_bytes(data[:-200] + b"\0" + data[-199:])

    monkeypatch.setattr(backup_file, "write_backup", spoilt)

    with pytest.raises(BackupRefusedError, match="does not read back"):
        back_up(house, tmp_path / "a.backup", NOW, secrets=True)

    assert left_in(tmp_path) == []


@pytest.mark.postgresql
def test_on_postgresql_it_says_what_to_use(tmp_path):
    with fresh_database("postgresql", tmp_path) as address, a_house(tmp_path, address) as house:
        with pytest.raises(BackupRefusedError, match="pg_dump"):
            back_up(house, tmp_path / "a.backup", NOW, secrets=True)

        assert not is_backup_due(house, NOW)


def test_the_daily_one_is_named_with_the_day_it_ends(house):
    keep_daily_backup(house, at(5))

    assert daily(house) == ["circle-2027-04-05-ends-2027-04-08.backup"]
    assert "secrets/link_key" in names_in(house.folder / "backups" / daily(house)[0])


def test_there_is_one_a_day(house):
    due = [is_backup_due(house, at(5))]
    keep_daily_backup(house, at(5))
    due += [is_backup_due(house, at(5) + timedelta(hours=20)), is_backup_due(house, at(6))]

    assert due == [True, False, True]
    assert "one of today" in keep_daily_backup(house, at(5))


def test_as_many_are_kept_as_set(house):
    for day in range(5, 12):
        keep_daily_backup(house, at(day))

    assert [name[:17] for name in daily(house)] == [
        f"circle-2027-04-{day:02}" for day in (9, 10, 11)
    ]


def test_a_smaller_number_removes_the_oldest(house):
    for day in (5, 6):
        keep_daily_backup(house, at(day))
    object.__setattr__(house, "backups_kept", 1)

    keep_daily_backup(house, at(7))

    assert daily(house) == ["circle-2027-04-07-ends-2027-04-08.backup"]


def test_what_is_named_otherwise_is_never_removed(house):
    keep_daily_backup(house, at(1))
    mine = house.folder / "backups" / "before-the-move.backup"
    mine.write_text("mine")

    keep_daily_backup(house, at(20))

    assert daily(house) == [mine.name, "circle-2027-04-20-ends-2027-04-23.backup"]


def test_the_older_ones_stay_where_no_new_one_can_be_written(house, monkeypatch):
    keep_daily_backup(house, at(1))
    monkeypatch.setattr(backup_file, "write_backup", full)

    with pytest.raises(BackupRefusedError):
        keep_daily_backup(house, at(20))

    assert daily(house) == ["circle-2027-04-01-ends-2027-04-04.backup"]


def test_none_is_made_where_none_is_wanted(house):
    object.__setattr__(house, "backups_kept", 0)

    keep_daily_backup(house, at(5))

    assert not (house.folder / backup.DAILY).exists()


@pytest.mark.parametrize(
    ("names", "since"),
    [
        ((), date(2027, 4, 5)),
        (("circle-2027-05-01-ends-2027-05-08.backup",), date(2027, 5, 1)),
        (("circle-2027-05-03-ends-2027-05-10.backup",), None),
        (("circle-2027-05-03-by-hand.backup",), date(2027, 4, 5)),
    ],
)
def test_an_overdue_backup_is_known_by_the_day_of_the_last(tmp_path, names, since):
    with a_house(tmp_path) as house:
        ring(house)
        (tmp_path / DAILY).mkdir()
        for name in names:
            (tmp_path / DAILY / name).touch()
        with house.books.reading() as tx:
            (circle,) = circles.everyone(tx)

    now = datetime(2027, 5, 5, 9, tzinfo=UTC)
    assert without_backup_since(house, circle, now) == since
    assert without_backup_since(replace(house, backups_kept=0), circle, now) is None
    assert without_backup_since(replace(house, fixed_today=now.date()), circle, now) is None
