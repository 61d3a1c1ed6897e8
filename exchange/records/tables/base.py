"""The base of all tables: one naming convention, instants in UTC, short sets as JSON."""

from datetime import datetime
from typing import Any, ClassVar

from sqlalchemy import JSON, ForeignKey, MetaData, Text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from exchange.records.columns import UTCInstant

CONVENTION = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class Base(DeclarativeBase):
    metadata = MetaData(naming_convention=CONVENTION)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        str: Text(),
        datetime: UTCInstant(),
        list[int]: JSON(),
        list[str]: JSON(),
        dict[str, Any]: JSON(),
    }

    id: Mapped[int] = mapped_column(primary_key=True)


class OfCircle:
    """A row that belongs to one circle; every query names the circle."""

    circle_id: Mapped[int] = mapped_column(ForeignKey("circle.id", ondelete="CASCADE"), index=True)


def one_of(column: str, values: Any) -> str:
    """Give the check that a text column holds one of an enumeration's values."""
    listed = ", ".join(f"'{value}'" for value in values)
    return f"{column} IN ({listed})"


def later(column: str) -> ForeignKey:
    """Give a foreign key that is looked at when all is kept: rows of one table name each other in any order."""
    return ForeignKey(column, deferrable=True, initially="DEFERRED")
