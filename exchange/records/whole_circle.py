"""All rows of one circle as plain values, and back into a database that has none."""

import warnings
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    ColumnElement,
    Connection,
    Date,
    DateTime,
    MetaData,
    Select,
    Table,
    func,
    insert,
    inspect,
    select,
    text,
)
from sqlalchemy.exc import SQLAlchemyError

from exchange.records.columns import UTCInstant
from exchange.records.tables import Account, Base, LinkTable, MemberTable
from exchange.records.transaction import Books, Tx

PlainRow = Mapping[str, Any]
PlainTables = Mapping[str, Sequence[PlainRow]]
"""The rows of each table, in the order in which they can be put back."""


class RowRefusedError(Exception):
    """A row cannot be kept; the text says which and why."""


class NotEmptyError(Exception):
    """The database holds something already."""


def all_rows(tx: Tx, circle_id: int) -> PlainTables:
    """Give every row of a circle as JSON holds it, with the accounts and links of its members."""
    return {
        table.name: [
            {name: to_json(value) for name, value in row.items()}
            for row in tx._session.execute(_of_circle(table, circle_id)).mappings()
        ]
        for table in Base.metadata.sorted_tables
    }


def to_json(value: Any) -> Any:
    """Give days and instants as ISO 8601 writes them, instants in UTC; all else as it is."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    return value.isoformat() if isinstance(value, date) else value


def _of_circle(table: Table, circle_id: int) -> Select[Any]:
    members = MemberTable.__table__.c
    of_circle = members.circle_id == circle_id
    columns = table.c
    found: ColumnElement[bool]
    if table is Account.__table__:
        found = columns.id.in_(select(members.account_id).where(of_circle))
    elif table is LinkTable.__table__:
        found = columns.member_id.in_(select(members.id).where(of_circle))
    else:
        found = columns["id" if table.name == "circle" else "circle_id"] == circle_id
    return select(table).where(found).order_by(columns.id)


def put_back(books: Books, rows: PlainTables) -> None:
    """Keep all rows, under the ids they had, in a database at their revision that has none.

    The tables are taken as they are in the database, so rows of an earlier revision fit.

    Raises
    ------
    NotEmptyError
        When the database holds a row in any table.
    RowRefusedError
        When a row does not fit; nothing is kept.
    """
    engine = books.engine.execution_options(exchange_begin="IMMEDIATE")
    with engine.begin() as connection:
        tables = _tables_in(connection)
        for table in tables.values():
            if connection.execute(select(func.count()).select_from(table)).scalar():
                raise NotEmptyError
        unknown = rows.keys() - tables.keys()
        if unknown:
            raise RowRefusedError(f"there is no table {min(unknown)}")
        for name, table in tables.items():
            for number, row in enumerate(rows.get(name, ()), start=1):
                with _told(name, number):
                    connection.execute(insert(table), from_json(table, row))
        if connection.dialect.name == "postgresql":
            _count_on(connection, tables)


def from_json(table: Table, row: PlainRow) -> dict[str, Any]:
    """Give a row as the database takes it.

    Raises
    ------
    ValueError
        When a column is missing or unknown, or holds what it cannot hold.
    """
    names = set(table.c.keys())
    if set(row) != names:
        odd = ", ".join(sorted(names ^ set(row)))
        raise ValueError(f"these columns are missing or not known: {odd}")
    return {name: column_value(table, name, value) for name, value in row.items()}


def column_value(table: Table, name: str, value: Any) -> Any:
    """Give a plain value as a column of the table takes it."""
    kind = table.c[name].type
    if value is None or isinstance(kind, JSON):
        return value
    if isinstance(kind, DateTime | UTCInstant):
        instant = datetime.fromisoformat(value)
        if instant.tzinfo is None:
            raise ValueError(f"{name} has no time zone")
        return instant.astimezone(UTC)
    if isinstance(kind, Date):
        return date.fromisoformat(value)
    if not isinstance(value, kind.python_type) and not (
        kind.python_type is float and type(value) is int
    ):
        raise TypeError(f"{name} holds {value!r}")
    return value


@contextmanager
def _told(table: str, number: int) -> Iterator[None]:
    try:
        yield
    except (ValueError, TypeError) as error:
        raise RowRefusedError(f"row {number} of {table}: {error}") from error
    except SQLAlchemyError as error:
        why = str(getattr(error, "orig", error)).splitlines()[0]
        raise RowRefusedError(f"row {number} of {table}: {why}") from error


def _tables_in(connection: Connection) -> dict[str, Table]:
    """Give the program's tables as the database has them, each after those it points at."""
    ours = {name for name in inspect(connection).get_table_names() if not name.startswith("huey_")}
    found = MetaData()
    with warnings.catch_warnings():
        # The index over the address in lower case is of no use here.
        warnings.filterwarnings(
            "ignore", "Skipped unsupported reflection of expression-based index"
        )
        found.reflect(connection, only=sorted(ours - {"alembic_version"}))
    return {table.name: table for table in found.sorted_tables}


def _count_on(connection: Connection, tables: Mapping[str, Table]) -> None:
    """Let PostgreSQL give new rows the ids after those that were put back."""
    for name, table in tables.items():
        last = connection.execute(select(func.max(table.c.id))).scalar()
        if last is not None:
            connection.execute(
                text("SELECT setval(pg_get_serial_sequence(:name, 'id'), :last)"),
                {"name": name, "last": last},
            )
