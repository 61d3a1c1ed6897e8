"""The books: one database, opened for reading or for writing."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Engine, create_engine, event, text
from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session, sessionmaker

Tx = Session
BUSY_TIMEOUT_MS = 10_000


class DatabaseBusyError(Exception):
    """Somebody else has been writing for too long."""


class Books:
    """One database, embedded SQLite or PostgreSQL by its address.

    Writing takes the write lock at once (BEGIN IMMEDIATE), because a read snapshot cannot be
    upgraded once somebody else has written.
    """

    def __init__(self, url: str) -> None:
        self.url = url
        self.engine = open_engine(url)
        self._sessions = sessionmaker(self.engine, expire_on_commit=False)
        self._writing = sessionmaker(
            self.engine.execution_options(exchange_begin="IMMEDIATE"), expire_on_commit=False
        )

    @contextmanager
    def reading(self) -> Iterator[Tx]:
        """Give a session that sees one state of the books and writes nothing."""
        with self._sessions() as tx:
            yield tx
            tx.rollback()

    @contextmanager
    def writing(self) -> Iterator[Tx]:
        """Give a session whose changes are kept together when the block ends well."""
        try:
            with self._writing() as tx, tx.begin():
                yield tx
        except OperationalError as error:
            if "database is locked" in str(error):
                raise DatabaseBusyError("Somebody else is writing; please try again.") from error
            raise

    def session(self) -> Tx:
        """Give a writing session for the sign-in library, which commits by itself."""
        return self._writing()

    def alive(self) -> bool:
        """Say whether the database answers."""
        with self.reading() as tx:
            return bool(tx.execute(text("SELECT 1")).scalar() == 1)

    def close(self) -> None:
        """Let go of all connections."""
        self.engine.dispose()


def open_engine(url: str) -> Engine:
    if not url.startswith("sqlite"):
        return create_engine(url, pool_pre_ping=True)
    engine = create_engine(url, connect_args={"timeout": BUSY_TIMEOUT_MS / 1000})
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _prepare_sqlite(connection: Any, _record: Any) -> None:
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in (
        "foreign_keys=ON",
        "journal_mode=WAL",
        "synchronous=NORMAL",
        f"busy_timeout={BUSY_TIMEOUT_MS}",
    ):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin_sqlite(connection: Any) -> None:
    mode = connection.get_execution_options().get("exchange_begin", "")
    connection.exec_driver_sql(f"BEGIN {mode}".strip())
