"""How rows are looked up and changed, where a noun needs nothing of its own."""

from collections.abc import Set as AbstractSet
from typing import TypeAlias, TypedDict, TypeVar

T = TypeVar("T")
OneOf: TypeAlias = T | AbstractSet[T]
"""One value of a column, or any of several."""


class ById(TypedDict, total=False):
    """What to look up by, where rows are only ever asked for by id, or all together."""

    id: OneOf[int]


class NeverChanged(TypedDict):
    """What may change of a row that is only ever added and removed: nothing."""
