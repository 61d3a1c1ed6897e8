"""Frozen dataclasses as JSON and back, for plans kept whole."""

import types
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from functools import cache
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

Value = TypeVar("Value")


def to_plain(value: Any) -> Any:
    """Turn a frozen dataclass and all in it into what JSON holds."""
    if is_dataclass(value) and not isinstance(value, type):
        return {one.name: to_plain(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple | list | frozenset | set):
        items = [to_plain(one) for one in value]
        return sorted(items) if isinstance(value, frozenset | set) else items
    return value


def from_plain(kind: type[Value], plain: Any) -> Value:
    """Turn JSON made by `to_plain` back into the dataclass."""
    made: Value = _maker(cast("Any", kind))(plain)
    return made


@cache
def _maker(hint: Any) -> Callable[[Any], Any]:
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _union(arguments)
    if origin in (tuple, frozenset):
        inner = _maker(arguments[0])
        return lambda plain: origin(inner(one) for one in plain)
    if isinstance(hint, type) and is_dataclass(hint):
        return _dataclass(hint)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    if hint in (date, datetime):
        parse: Callable[[Any], Any] = hint.fromisoformat
        return parse
    return lambda plain: plain


def _dataclass(hint: Any) -> Callable[[Any], Any]:
    hints = get_type_hints(hint)

    def make(plain: Any) -> Any:
        known = {one.name for one in fields(hint)}
        return hint(**{name: _maker(hints[name])(plain[name]) for name in plain if name in known})

    return make


def _union(arguments: tuple[Any, ...]) -> Callable[[Any], Any]:
    """Take the first member of the union that can hold the value; None stays None."""
    makers = [_maker(one) for one in arguments if one is not type(None)]

    def make(plain: Any) -> Any:
        if plain is None:
            return None
        for maker in makers[:-1]:
            try:
                return maker(plain)
            except (ValueError, TypeError, KeyError):
                continue
        return makers[-1](plain)

    return make
