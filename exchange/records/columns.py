"""What columns hold: a row's values and its frozen dataclass, and whole dataclasses kept as JSON."""

from collections.abc import Callable
from collections.abc import Set as AbstractSet
from dataclasses import fields
from datetime import UTC, date, datetime
from enum import Enum, EnumType, IntEnum, StrEnum
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from cattrs import Converter
from sqlalchemy import DateTime
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

Value = TypeVar("Value")

_json = Converter(
    detailed_validation=False, unstruct_collection_overrides={tuple: list, frozenset: sorted}
)


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
    if origin in (Union, UnionType):
        inner = _converter(next(one for one in arguments if one is not NoneType))
        return lambda raw: None if raw is None else inner(raw)
    if origin in (frozenset, tuple):
        inner = _converter(arguments[0])
        build = origin
        return lambda raw: build(inner(one) for one in raw)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    return lambda raw: raw


def held(value: Any) -> Any:
    """Turn a value of the craft into what a column holds."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, frozenset):
        return sorted(held(one) for one in value)
    if isinstance(value, tuple):
        return [held(one) for one in value]
    return value


def matches(column: Any, wanted: Any) -> Any:
    """Give the condition that a column holds a value (None: is empty; a set: holds one of it)."""
    if isinstance(wanted, AbstractSet):
        return column.in_([held(one) for one in wanted])
    return column.is_(None) if wanted is None else column == held(wanted)


def to_plain(value: Any) -> Any:
    """Turn a frozen dataclass and all in it into what JSON holds."""
    return _json.unstructure(value)


def from_plain(kind: type[Value], plain: Any) -> Value:
    """Turn JSON made by `to_plain` back into the dataclass; keys it does not know are left out."""
    return _json.structure(plain, kind)


def _is_union_of_enums(hint: Any) -> bool:
    members = set(get_args(hint)) - {NoneType}
    is_union = get_origin(hint) in (Union, UnionType)
    return is_union and all(isinstance(one, EnumType) for one in members)


def _first_that_holds(plain: Any, hint: Any) -> Any:
    """Take the first enumeration of a union that has the value; None stays None."""
    if plain is None:
        return None
    members = [one for one in get_args(hint) if one is not NoneType]
    known = (one for one in members if plain in {each.value for each in one})
    return next(known, members[-1])(plain)


# An enumeration of texts counts as a text here, one of numbers as a number, so each kind is named.
for _kind in (Enum, StrEnum, IntEnum):
    _json.register_unstructure_hook(_kind, lambda value: value.value)
    _json.register_structure_hook(_kind, lambda plain, kind: kind(plain))
_json.register_unstructure_hook(date, lambda value: value.isoformat())
for _day in (date, datetime):
    _json.register_structure_hook(_day, lambda plain, kind: kind.fromisoformat(plain))
# What JSON holds as it is stays as it is: a whole number of degrees is still whole when read back.
for _plain in (bool, int, float, str):
    _json.register_structure_hook(_plain, lambda plain, _kind: plain)
_json.register_structure_hook_func(_is_union_of_enums, _first_that_holds)
