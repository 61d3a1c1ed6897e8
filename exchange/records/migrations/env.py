"""Runs the migrations on the connection it is handed, or compares the tables with the newest shape.

`alembic revision --autogenerate` hands it none: it then gets an empty database in memory, at the newest
revision, so that a new migration holds what the tables have and the migrations so far do not.
"""

from typing import Any

from alembic import context
from alembic.migration import MigrationContext
from alembic.operations import Operations
from sqlalchemy import Connection

from exchange.records.columns import UTCInstant
from exchange.records.tables.base import Base
from exchange.records.transaction import open_engine


def _plain_types(kind: str, thing: Any, _autogen: Any) -> Any:
    if kind == "type" and isinstance(thing, UTCInstant):
        return "sa.DateTime(timezone=True)"
    return False


def _newest_shape() -> Connection:
    # Not by `command.upgrade`: run within this file it would end the context this file runs in.
    connection = open_engine("sqlite://").connect()
    steps = {"fn": lambda here, _context: context.script._upgrade_revs("head", here)}
    migrations = MigrationContext.configure(connection, opts=steps)
    with Operations.context(migrations):
        migrations.run_migrations()
    return connection


context.configure(
    connection=context.config.attributes.get("connection") or _newest_shape(),
    target_metadata=Base.metadata,
    render_as_batch=True,
    render_item=_plain_types,
    transaction_per_migration=False,
)
context.run_migrations()
