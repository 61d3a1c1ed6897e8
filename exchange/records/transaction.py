"""The database, opened for reading or for writing, one transaction at a time."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from sqlalchemy import Engine, create_engine, event, make_url, text
from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session, sessionmaker

BUSY_TIMEOUT_MS = 10_000
"""How long a writer waits for another before it gives up [ms]."""
_WRITERS_LOCK = 7_217_101
_BUSY = ("database is locked", "lock timeout")


class DatabaseBusyError(Exception):
    """Somebody else has been writing for too long."""


class DatabaseUnreachableError(Exception):
    """The database cannot be opened; the text is what it answered."""


class Tx:
    """One transaction; only the records layer reads and writes in it."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._afterwards: list[Callable[[], object]] = []

    def after(self, act: Callable[[], object]) -> None:
        """Have something done once all is kept, such as waking the worker.

        It is done when the transaction has been committed, in the order it was asked for; never
        when the transaction is rolled back, and so never in one that only reads.
        """
        self._afterwards.append(act)

    def _kept(self) -> None:
        for act in self._afterwards:
            act()


class Books:
    """One database, embedded SQLite or PostgreSQL by its address.

    Writers follow one another on both: SQLite by BEGIN IMMEDIATE, because a read snapshot cannot
    be upgraded once somebody else has written; PostgreSQL by one lock for the transaction. So what
    an act has read still holds when it writes. Readers never wait, and see one state.
    """

    def __init__(self, url: str) -> None:
        self.url = url
        self.engine = open_engine(url)
        sqlite = self.engine.dialect.name == "sqlite"
        snapshot = {} if sqlite else {"isolation_level": "REPEATABLE READ"}
        self._reading = sessionmaker(
            self.engine.execution_options(**snapshot), expire_on_commit=False
        )
        self._writing = sessionmaker(
            self.engine.execution_options(exchange_begin="IMMEDIATE"), expire_on_commit=False
        )

    @contextmanager
    def reading(self) -> Iterator[Tx]:
        """Give a transaction that sees one state of the database and writes nothing."""
        with self._reading() as session:
            yield Tx(session)
            session.rollback()

    @contextmanager
    def writing(self) -> Iterator[Tx]:
        """Give a transaction whose changes are kept together when the block ends well."""
        try:
            with self._writing() as session, session.begin():
                tx = Tx(session)
                yield tx
        except OperationalError as error:
            if any(sign in str(error) for sign in _BUSY):
                raise DatabaseBusyError("Somebody else is writing; please try again.") from error
            raise
        tx._kept()

    def reach(self) -> None:
        """Open the database once.

        Raises
        ------
        DatabaseUnreachableError
            When it cannot be opened.
        """
        try:
            self.engine.connect().close()
        except OperationalError as error:
            raise DatabaseUnreachableError(" ".join(str(error.orig).split())) from error

    def alive(self) -> bool:
        """Say whether the database answers."""
        with self.reading() as tx:
            return bool(tx._session.execute(text("SELECT 1")).scalar() == 1)

    def close(self) -> None:
        """Let go of all connections."""
        self.engine.dispose()


def open_engine(url: str) -> Engine:
    if not url.startswith("sqlite"):
        engine = create_engine(url, pool_pre_ping=True)
        event.listen(engine, "begin", _begin_postgresql)
        return engine
    _keep_private(make_url(url).database)
    engine = create_engine(url, connect_args={"timeout": BUSY_TIMEOUT_MS / 1000})
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _keep_private(file: str | None) -> None:
    """Make a new database file one that only its owner can read; it holds addresses."""
    if file and file != ":memory:":
        with suppress(OSError):
            os.close(os.open(file, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))


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


def _begin_postgresql(connection: Any) -> None:
    if connection.get_execution_options().get("exchange_begin"):
        connection.exec_driver_sql(f"SET LOCAL lock_timeout = {BUSY_TIMEOUT_MS}")
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS_LOCK})")
