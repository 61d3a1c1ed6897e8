"""Reading a choice out of an address."""

from enum import StrEnum
from typing import TypeVar

Choice = TypeVar("Choice", bound=StrEnum)


def one_of(kind: type[Choice], text: str | None) -> Choice | None:
    """Give the choice of that name, or None for anything else."""
    return kind(text) if text in set(kind) else None
