"""The copy of a SQLite file made beside it before an upgrade."""

import shutil
import sqlite3
import stat
from contextlib import closing
from datetime import date

import pytest

from exchange.actions.circle.set_up import NoCopyError, upgrade_records
from exchange.records import DEEDS, Books
from exchange.records import upgrade as upgrading
from exchange.records.copies import CopyFailedError, copy_beside
from exchange.records.upgrade import newest, revision, upgrade
from tests.app_fixtures import a_house, both_databases, fresh_database, ring

TODAY = date(2027, 4, 5)
BREAKS = """
import sqlalchemy as sa
from alembic import op

revision, down_revision, branch_labels, depends_on = "9999", {last!r}, None, None


def upgrade():
    op.execute("DELETE FROM deed")
    op.add_column("variety", sa.Column("colour", sa.Text(), nullable=True))
    op.drop_table("calendar_address")
    raise ZeroDivisionError
"""


@pytest.fixture
def house(tmp_path):
    """Give a house whose newest deeds stand in the log of its file only."""
    with a_house(tmp_path) as made:
        ring(made)
        yield made


@pytest.fixture
def newer(house, tmp_path, monkeypatch):
    """Add one more migration, which breaks halfway."""
    migrations = tmp_path / "migrations"
    shutil.copytree(upgrading.MIGRATIONS, migrations)
    breaks = BREAKS.format(last=newest())
    (migrations / "versions" / "9999_breaks.py").write_text(breaks, encoding="utf-8")
    monkeypatch.setattr(upgrading, "MIGRATIONS", migrations)


def everything(file):
    """Give the shape and every row of a SQLite file, as text."""
    with closing(sqlite3.connect(file)) as connection:
        return list(connection.iterdump())


def copies(folder):
    return sorted(path.name for path in folder.glob("circle.sqlite.before-*"))


@pytest.mark.usefixtures("newer")
def test_a_migration_that_breaks_in_the_middle_leaves_the_file_and_its_copy_whole(house, tmp_path):
    file = tmp_path / "circle.sqlite"
    before = everything(file)

    with pytest.raises(ZeroDivisionError):
        upgrade(house.books, today=TODAY)

    (name,) = copies(tmp_path)
    assert name == "circle.sqlite.before-9999-2027-04-05"
    assert everything(file) == before
    assert everything(tmp_path / name) == before
    with house.books.reading() as tx:
        assert len(DEEDS.all(tx, 1)) > 2


@pytest.mark.usefixtures("newer")
def test_the_copy_is_one_file_that_only_its_owner_reads(house, tmp_path):
    with pytest.raises(ZeroDivisionError):
        upgrade(house.books, today=TODAY)

    (name,) = copies(tmp_path)
    assert stat.S_IMODE((tmp_path / name).stat().st_mode) == 0o600
    books = Books(f"sqlite:///{tmp_path / name}")
    assert revision(books) != "9999"
    books.close()


@pytest.mark.usefixtures("newer")
def test_a_copy_that_is_there_is_never_overwritten(house, tmp_path):
    there = tmp_path / "circle.sqlite.before-9999-2027-04-05"
    there.write_text("kept from before")

    with pytest.raises(ZeroDivisionError):
        upgrade(house.books, today=TODAY)

    assert there.read_text() == "kept from before"
    assert copies(tmp_path) == [there.name, f"{there.name}-2"]


@pytest.mark.usefixtures("newer")
def test_without_a_copy_nothing_is_upgraded(house, tmp_path, monkeypatch):
    def no_room(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("exchange.records.copies.os.open", no_room)
    before = everything(tmp_path / "circle.sqlite")

    with pytest.raises(NoCopyError, match=r"No space left on device. Nothing was changed\.$"):
        upgrade_records(house, TODAY)

    assert everything(tmp_path / "circle.sqlite") == before
    assert copies(tmp_path) == []


def test_a_copy_that_cannot_be_read_back_is_not_left(tmp_path):
    file = tmp_path / "circle.sqlite"
    file.write_bytes(b"no database at all" * 400)

    with pytest.raises(CopyFailedError, match="not a database"):
        copy_beside(file, "before")

    assert [path.name for path in tmp_path.iterdir()] == ["circle.sqlite"]


def test_there_is_none_where_nothing_is_to_be_upgraded(house, tmp_path):
    done = upgrade_records(house, TODAY)

    assert (done.newest, done.copy) == (newest(), None)
    assert copies(tmp_path) == []


def test_there_is_none_of_an_empty_database(tmp_path):
    books = Books(f"sqlite:///{tmp_path / 'circle.sqlite'}")

    assert upgrade(books, today=TODAY) is None

    assert copies(tmp_path) == []
    books.close()


@pytest.mark.parametrize("kind", both_databases)
def test_only_a_file_is_copied(kind, tmp_path):
    with fresh_database(kind, tmp_path) as address:
        books = Books(address)
        upgrade(books, "0003")

        copy = upgrade(books, "0004", today=TODAY)

        assert revision(books) == "0004"
        assert (copy is not None) == (kind == "sqlite")
        books.close()
