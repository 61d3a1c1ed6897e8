"""Bringing a database to the newest shape; the migrations lie beside this file."""

import warnings
from pathlib import Path

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, text

from exchange.records.tables import Base
from exchange.records.transaction import Books

MIGRATIONS = Path(__file__).resolve().parent / "migrations"


def upgrade(books: Books, to: str = "head") -> None:
    """Bring the database to a revision, all or nothing.

    SQLite deletes the children of a table that is rebuilt while foreign keys are on, so they are
    off meanwhile and checked before the end.
    """
    config = _config()
    with books.engine.connect() as connection:
        sqlite = connection.dialect.name == "sqlite"
        if sqlite:
            _foreign_keys(connection, on=False)
        try:
            with connection.begin():
                config.attributes["connection"] = connection
                command.upgrade(config, to)
                if sqlite:
                    broken = connection.execute(text("PRAGMA foreign_key_check")).all()
                    if broken:
                        raise BrokenReferencesError(f"the migration left {len(broken)} broken rows")
        finally:
            if sqlite:
                _foreign_keys(connection, on=True)


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
            # SQLite cannot tell of the index over the address in small letters.
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
