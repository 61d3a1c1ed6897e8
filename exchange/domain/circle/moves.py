"""What making two entries one moves: one column of one row at a time, so that it can be taken back exactly."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum


class MergerKind(StrEnum):
    """What was entered twice."""

    VARIETY = "variety"
    MEMBER = "member"


Plain = str | int | float | bool | None | tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Move:
    """One column of one row that changes.

    Attributes
    ----------
    noun : what such a row is called, as its table
    before, after : what the column held and holds; days and instants as ISO 8601 writes them
    """

    noun: str
    row_id: int
    column: str
    before: Plain
    after: Plain


def changed(moves: Iterable[Move]) -> tuple[Move, ...]:
    """Leave out the moves that change nothing."""
    return tuple(one for one in moves if one.before != one.after)


def counts(moves: Iterable[Move]) -> Mapping[str, int]:
    """Count the rows that move, each once [noun -> rows]."""
    rows = {(one.noun, one.row_id) for one in moves}
    return Counter(noun for noun, _row in rows)
