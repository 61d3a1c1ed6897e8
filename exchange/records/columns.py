"""What columns hold, and between a row's columns and its frozen dataclass."""

import types
from collections.abc import Callable
from collections.abc import Set as AbstractSet
from dataclasses import fields
from datetime import UTC, datetime
from enum import Enum
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from sqlalchemy import DateTime
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

Value = TypeVar("Value")


class NaiveInstantError(ValueError):
    """An instant without its zone was about to be stored."""


class UTCInstant(TypeDecorator[datetime]):
    """An instant, kept in UTC; SQLite would drop the offset without a word."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, _dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise NaiveInstantError(f"the instant {value} has no time zone")
        return value.astimezone(UTC)

    def process_result_value(self, value: Any, _dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        instant: datetime = value
        return instant.replace(tzinfo=UTC) if instant.tzinfo is None else instant.astimezone(UTC)


def reader(row_class: Callable[..., Value]) -> Callable[[Any], Value]:
    """Give the function that makes a frozen dataclass from a row's columns of the same names."""
    hints = get_type_hints(row_class)
    names = names_of(row_class)
    turn = {name: _converter(hints[name]) for name in names}

    def read(row: Any) -> Value:
        return row_class(**{name: turn[name](getattr(row, name)) for name in names})

    return read


def names_of(row_class: Any) -> tuple[str, ...]:
    """Give the names of a row's columns."""
    return tuple(field.name for field in fields(row_class))


def _converter(hint: Any) -> Callable[[Any], Any]:
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        inner = _converter(next(one for one in arguments if one is not type(None)))
        return lambda raw: None if raw is None else inner(raw)
    if origin in (frozenset, tuple):
        inner = _converter(arguments[0])
        build = origin
        return lambda raw: build(inner(one) for one in raw)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    return lambda raw: raw


def plain(value: Any) -> Any:
    """Turn a value of the craft into what a column holds."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, frozenset):
        return sorted(plain(one) for one in value)
    if isinstance(value, tuple):
        return [plain(one) for one in value]
    return value


def matches(column: Any, wanted: Any) -> Any:
    """Give the condition that a column holds a value (None: is empty; a set: holds one of it)."""
    if isinstance(wanted, AbstractSet):
        return column.in_([plain(one) for one in wanted])
    return column.is_(None) if wanted is None else column == plain(wanted)
