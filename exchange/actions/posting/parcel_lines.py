"""The lines of parcels: what of an allocation travels, and until which day it may."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.variety import Variety
from exchange.domain.posting.parcel import Line
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.words.growing import plants
from exchange.words.growing.together import Plants, in_place, kind, together


@dataclass(frozen=True, slots=True)
class Given:
    """An allocation with the spare it comes from and the claim it goes to."""

    allocation_id: int
    spare: SpareRow
    claim: ClaimRow
    variety: Variety


def last_day(spare: SpareRow, claim: ClaimRow) -> date:
    """Give the last day on which plants of a spare may be posted for a claim."""
    return min(spare.send_by, claim.no_use_after or spare.send_by)


def line_of(given: Given, count: int) -> Line:
    """Give the line for a number of plants of an allocation [plants]."""
    spare, variety = given.spare, given.variety
    return Line(
        given.allocation_id,
        spare.id,
        variety.id,
        variety.species,
        spare.material,
        spare.raised,
        count,
        spare.ready_from,
        last_day(spare, given.claim),
        variety.must_not_be_lost,
    )


def what_goes(count: int, spare: SpareRow, varieties: Mapping[int, Variety]) -> str:
    """Say what a number of plants of a spare are: "3 rooted cuttings of ..., raised in heat"."""
    return _said(_plants(count, spare), varieties)


def what_comes(
    count: int, spare: SpareRow, claim: ClaimRow, varieties: Mapping[int, Variety]
) -> str:
    """Say what comes of a spare for a claim, and in place of what where it is another variety."""
    return plants.instead(what_goes(count, spare, varieties), _asked_for(spare, claim, varieties))


def all_that_goes(
    parts: Iterable[tuple[int, SpareRow]], varieties: Mapping[int, Variety]
) -> tuple[str, ...]:
    """Say what so many plants of each of these spares are together, one line for each kind."""
    return tuple(_said(one, varieties) for one in together(_plants(*part) for part in parts))


def all_that_comes(
    parts: Iterable[tuple[int, SpareRow, ClaimRow]], varieties: Mapping[int, Variety]
) -> tuple[str, ...]:
    """Say what comes of spares for claims, one line for each kind, and in place of what."""
    there = [
        _plants(count, spare, _asked_for(spare, claim, varieties)) for count, spare, claim in parts
    ]
    return tuple(
        in_place(_said(line, varieties), [one for one in there if kind(one) == kind(line)])
        for line in together(there)
    )


def _plants(count: int, spare: SpareRow, in_place_of: str = "") -> Plants:
    return Plants(spare.variety_id, spare.material, spare.raised, count, in_place_of)


def _said(one: Plants, varieties: Mapping[int, Variety]) -> str:
    variety = varieties[one.variety_id]
    return plants.so_many(one.count, one.material, variety.species, variety.name, one.raised)


def _asked_for(spare: SpareRow, claim: ClaimRow, varieties: Mapping[int, Variety]) -> str:
    """Name what a claim asked for, where the spare is of another variety."""
    if claim.variety_id == spare.variety_id:
        return ""
    wanted = varieties[claim.variety_id]
    return plants.variety(wanted.species, wanted.name)
