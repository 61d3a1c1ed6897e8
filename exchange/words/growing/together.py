"""Plants of one variety, sent as the same and raised alike, as one line with their numbers added up."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.posting.parcel import Line
from exchange.words.growing.plants import RAISED, instead
from exchange.words.kernel.phrase import listed

Kind = tuple[int, Material, Raised | None]
P = TypeVar("P", Line, "Plants")


@dataclass(frozen=True, slots=True)
class Plants:
    """Some plants of a variety.

    Attributes
    ----------
    in_place_of : the name of what was asked for, empty where it is this variety
    """

    variety_id: int
    material: Material
    raised: Raised
    count: int
    in_place_of: str = ""


def kind(one: Line | Plants) -> Kind:
    """Give what makes plants the same to whoever packs or unpacks them; resting material is raised in nothing."""
    return one.variety_id, one.material, one.raised if one.material in RAISED else None


def together(lines: Iterable[P]) -> tuple[P, ...]:
    """Give one line for all plants of a kind, where the first of them stood."""
    found: dict[Kind, P] = {}
    for one in lines:
        there = found.get(kind(one))
        found[kind(one)] = replace(there, count=there.count + one.count) if there else one
    return tuple(found.values())


def in_place(text: str, parts: Sequence[Plants]) -> str:
    """Add in place of what some or all of a line's plants come."""
    counts: dict[str, int] = {}
    for one in parts:
        counts[one.in_place_of] = counts.get(one.in_place_of, 0) + one.count
    if len(counts) == 1:
        return instead(text, *counts)
    said = [f"{count} of them in place of {name}" for name, count in counts.items() if name]
    return f"{text}; {listed(said)}, as your claim allows"
