"""Runs the migrations on the connection it is handed."""

from typing import Any

from alembic import context

from exchange.records.tables.base import Base, UTCInstant


def _plain_types(kind: str, thing: Any, _autogen: Any) -> Any:
    if kind == "type" and isinstance(thing, UTCInstant):
        return "sa.DateTime(timezone=True)"
    return False


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    render_item=_plain_types,
    transaction_per_migration=False,
)
context.run_migrations()
