"""The lines of parcels: what of an allocation travels, and until which day it may."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.variety import Variety
from exchange.domain.posting.parcel import Line
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.words.growing import plants


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
    variety = varieties[spare.variety_id]
    return plants.so_many(count, spare.material, variety.species, variety.name, spare.raised)


def what_comes(
    count: int, spare: SpareRow, claim: ClaimRow, varieties: Mapping[int, Variety]
) -> str:
    """Say what comes of a spare for a claim, and in place of what where it is another variety."""
    asked_for = ""
    if claim.variety_id != spare.variety_id:
        wanted = varieties[claim.variety_id]
        asked_for = plants.variety(wanted.species, wanted.name)
    return plants.instead(what_goes(count, spare, varieties), asked_for)
