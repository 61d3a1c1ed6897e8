"""Rows as a database itself gives them, without the program's tables: what was, and what is now."""

import json
from collections.abc import Mapping
from datetime import UTC, date, datetime
from hashlib import sha256
from typing import Any

from sqlalchemy import Connection, Engine, inspect, text

Rows = Mapping[int, Mapping[str, Any]]
"""The rows of a table by their ids."""


def tables_of(engine: Engine) -> dict[str, Rows]:
    """Give every row of every table [table -> id -> column -> value]."""
    with engine.connect() as connection:
        names = [
            name for name in inspect(connection).get_table_names() if name != "alembic_version"
        ]
        return {name: _rows(connection, name) for name in sorted(names)}


def digest_of(rows: Rows) -> str:
    """Give a digest of rows that is the same wherever the same values stand."""
    return sha256(
        json.dumps([rows[key] for key in sorted(rows)], sort_keys=True).encode()
    ).hexdigest()


def _rows(connection: Connection, name: str) -> Rows:
    found = connection.execute(text(f'SELECT * FROM "{name}"')).mappings()  # noqa: S608 - a table's own name
    return {row["id"]: {key: _plain(value) for key, value in row.items()} for row in found}


def _plain(value: Any) -> Any:
    """Give the same for the same value in either database, and what JSON means for JSON kept as text."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S.%f")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, str) and (value[:1] in ("{", "[") or value == "null"):
        try:
            return json.loads(value)
        except ValueError:
            return value
    return value
