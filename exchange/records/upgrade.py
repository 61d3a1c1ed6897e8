"""Bringing a database to the newest shape; the migrations lie beside this file."""

import warnings
from datetime import date
from pathlib import Path

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, text

from exchange.records.copies import copy_beside
from exchange.records.tables import Base
from exchange.records.transaction import Books

MIGRATIONS = Path(__file__).resolve().parent / "migrations"


def upgrade(books: Books, to: str = "head", *, today: date | None = None) -> Path | None:
    """Bring the database to a revision, all or nothing; give the copy made of a SQLite file before.

    SQLite deletes the children of a table that is rebuilt while foreign keys are on, so they are
    off meanwhile and checked before the end.

    Parameters
    ----------
    today : the day in the copy's name; None makes no copy

    Raises
    ------
    CopyFailedError
        When there is something to upgrade and no copy can be written; nothing is changed.
    """
    config = _config()
    sqlite = books.engine.dialect.name == "sqlite"
    how = {"exchange_begin": "IMMEDIATE"} if sqlite else {}
    with books.engine.execution_options(**how).connect() as connection:
        if sqlite:
            _foreign_keys(connection, on=False)
        try:
            with connection.begin():
                # The lock is held already, so that nothing is written between copy and upgrade.
                copy = _copy(connection, to, today) if sqlite and today else None
                config.attributes["connection"] = connection
                command.upgrade(config, to)
                if sqlite:
                    broken = connection.execute(text("PRAGMA foreign_key_check")).all()
                    if broken:
                        raise BrokenReferencesError(f"the migration left {len(broken)} broken rows")
        finally:
            if sqlite:
                _foreign_keys(connection, on=True)
    return copy


def _copy(connection: Connection, to: str, today: date) -> Path | None:
    """Copy a file that holds something and is to be changed; None for any other."""
    file = connection.engine.url.database
    here = MigrationContext.configure(connection).get_current_revision()
    wanted = ScriptDirectory.from_config(_config()).get_revision(to).revision
    if here in (None, wanted) or not file or file == ":memory:":
        return None
    return copy_beside(Path(file), f"before-{wanted}-{today}")


class BrokenReferencesError(Exception):
    """A migration left rows that point at nothing."""


def revision(books: Books) -> str | None:
    """Give the revision the database is at, or None for an empty one."""
    with books.engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def newest() -> str:
    """Give the newest revision there is."""
    head = ScriptDirectory.from_config(_config()).get_current_head()
    return head or ""


def knows(wanted: str) -> bool:
    """Say whether this version of the program knows a revision."""
    known = ScriptDirectory.from_config(_config()).walk_revisions()
    return wanted in {one.revision for one in known}


def differences(books: Books) -> list[str]:
    """List where the database differs from the tables; empty when it is as it should be."""
    with books.engine.connect() as connection:
        context = MigrationContext.configure(
            connection,
            opts={
                "compare_type": False,
                "compare_server_default": False,
                "include_name": _is_ours,
            },
        )
        with warnings.catch_warnings():
            # SQLite cannot report the index over the address in lower case.
            for notice in ("Skipped unsupported reflection", "autogenerate skipping"):
                warnings.filterwarnings("ignore", f"{notice}.* expression-based index")
            return [str(one) for one in compare_metadata(context, Base.metadata)]


def _is_ours(name: str | None, kind: str, _parents: object) -> bool:
    """Leave out the tables the queue of jobs keeps for itself in a PostgreSQL database."""
    return not (kind == "table" and (name or "").startswith("huey_"))


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    return config


def _foreign_keys(connection: Connection, *, on: bool) -> None:
    raw = connection.connection.cursor()
    raw.execute(f"PRAGMA foreign_keys={'ON' if on else 'OFF'}")
    raw.close()
