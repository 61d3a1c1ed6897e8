"""What is in a parcel, one line for each kind of plant, and what is said of such a line."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from exchange.domain.growing.variety import Variety
from exchange.domain.posting.parcel import Line
from exchange.words.growing.together import kind, together


@dataclass(frozen=True, slots=True)
class InParcel:
    """Plants in the parcel, and whether the sender has said yes to them."""

    line: Line
    variety: Variety
    agreed: bool


def by_kind(contents: Iterable[InParcel]) -> tuple[InParcel, ...]:
    """Give one line for each kind of plant; the first allocation stands for all of its kind."""
    there = tuple(contents)
    varieties = {one.variety.id: one.variety for one in there}
    return tuple(
        InParcel(line, varieties[line.variety_id], all(one.agreed for one in there))
        for line in together(one.line for one in there)
    )


def stands_for(
    allocation_id: int, said: Mapping[int, int], lines: Sequence[Line]
) -> tuple[Line, ...]:
    """Give the lines that what is said of one speaks of: itself, and those of its kind of which nothing is said."""
    named = next(one for one in lines if one.allocation_id == allocation_id)
    others = (one for one in lines if kind(one) == kind(named) and one.allocation_id not in said)
    return (named, *others)


def spread(said: Mapping[int, int], lines: Sequence[Line]) -> dict[int, int]:
    """Give each allocation its part of the numbers said, the first its whole before the next [plants]."""
    found = {}
    for allocation_id, count in said.items():
        left = count
        for one in stands_for(allocation_id, said, lines):
            found[one.allocation_id] = min(left, one.count)
            left -= found[one.allocation_id]
    return found
