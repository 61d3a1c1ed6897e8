"""How rows are asked for and changed, where a noun has nothing of its own to say."""

from collections.abc import Set as AbstractSet
from typing import TypeAlias, TypedDict, TypeVar

T = TypeVar("T")
OneOf: TypeAlias = T | AbstractSet[T]
"""One value of a column, or any of several."""


class ById(TypedDict, total=False):
    """By what a row is asked for that is only ever asked for by its id, or all together."""

    id: OneOf[int]


class NeverChanged(TypedDict):
    """What may change of a row that is only ever added and removed: nothing."""
