"""Frozen dataclasses as JSON and back, for plans kept whole."""

from datetime import date, datetime
from enum import Enum, EnumType, IntEnum, StrEnum
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin

from cattrs import Converter

Value = TypeVar("Value")

_converter = Converter(
    detailed_validation=False, unstruct_collection_overrides={tuple: list, frozenset: sorted}
)


def to_plain(value: Any) -> Any:
    """Turn a frozen dataclass and all in it into what JSON holds."""
    return _converter.unstructure(value)


def from_plain(kind: type[Value], plain: Any) -> Value:
    """Turn JSON made by `to_plain` back into the dataclass; keys it does not know are left out."""
    return _converter.structure(plain, kind)


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
    _converter.register_unstructure_hook(_kind, lambda value: value.value)
    _converter.register_structure_hook(_kind, lambda plain, kind: kind(plain))
_converter.register_unstructure_hook(date, lambda value: value.isoformat())
for _day in (date, datetime):
    _converter.register_structure_hook(_day, lambda plain, kind: kind.fromisoformat(plain))
# What JSON holds as it is stays as it is: a whole number of degrees is still whole when read back.
for _plain in (bool, int, float, str):
    _converter.register_structure_hook(_plain, lambda plain, _kind: plain)
_converter.register_structure_hook_func(_is_union_of_enums, _first_that_holds)
