"""Which spares could serve which claims, and what stands in the way of the others."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from exchange.domain.circle.border import Passage
from exchange.domain.growing.batch import Material
from exchange.domain.growing.fit import WARM_TO_COLD, OutFrom, Stock, coldest_fit
from exchange.domain.growing.room import pots, room_down_to
from exchange.domain.growing.shelter import Shelter
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.spare import Spare


@dataclass(frozen=True, slots=True)
class Pool:
    """Spares that no claim can tell apart, as indices into the case; all of one variety."""

    spares: tuple[int, ...]
    variety_id: int


@dataclass(frozen=True, slots=True)
class PoolForClaim:
    """A pool that could serve a claim.

    Attributes
    ----------
    claim : index into the case's claims
    rank : 0 for the variety itself, then its place among the alternatives
    depth : how cold a shelter will do on the latest day, as an index into `WARM_TO_COLD`
    """

    pool: int
    claim: int
    rank: int
    depth: int


@dataclass(frozen=True, eq=False)
class Pairs:
    """All that could be: for each pair one column.

    Attributes
    ----------
    pool, claim, rank, depth : by column, what `PoolForClaim` tells
    room : by place, free room down to each kind of shelter, None is no limit [pots]
    obstacles : by claim index without any pair: what stood in the way, and the spare that came nearest
    """

    pools: tuple[Pool, ...]
    pool: NDArray[np.int64]
    claim: NDArray[np.int64]
    rank: NDArray[np.int64]
    depth: NDArray[np.int64]
    room: Mapping[int, tuple[int | None, ...]]
    obstacles: Mapping[int, tuple[Obstacle, Spare | None]]

    @property
    def count(self) -> int:
        """Give the number of pairs."""
        return len(self.claim)

    @cached_property
    def pairs(self) -> tuple[PoolForClaim, ...]:
        """Give the pairs one by one."""
        columns = (self.pool, self.claim, self.rank, self.depth)
        return tuple(map(PoolForClaim, *(column.tolist() for column in columns)))

    @cached_property
    def variety(self) -> NDArray[np.int64]:
        """Give each pair's variety."""
        varieties = np.array([pool.variety_id for pool in self.pools], dtype=np.int64)
        return varieties[self.pool]


class PairingLookups:
    """What pairing looks up again and again in one case."""

    def __init__(self, case: ShareOutCase) -> None:
        self.case = case
        self.left = {one.id for one in case.households if one.left}
        self.varieties = {one.id: one for one in case.varieties}
        self.forbidden = frozenset(case.forbids)
        self.blocked = {
            ends
            for ends, row in case.passage.items()
            if row is not None and row.passage is Passage.BLOCKED
        }
        self.room = _rooms(case)
        self._stocks: dict[int, Stock] = {}
        self._depths: dict[tuple[Stock, date, OutFrom | None], int] = {}

    def take_standing(self) -> None:
        """Take off the room of allocations that stand already."""
        spares = {one.id: one for one in self.case.spares}
        claims = {one.id: one for one in self.case.claims}
        room = {place: list(free) for place, free in self.room.items()}
        for one in self.case.standing:
            spare, claim = spares[one.spare_id], claims[one.claim_id]
            _take(room[claim.place_id], self.depth(spare, claim), pots(one.count))
        self.room = {place: tuple(free) for place, free in room.items()}

    def obstacle(self, spare: Spare, claim: Claim) -> Obstacle | None:
        """Give the first thing that keeps a spare from a claim, or None."""
        if spare.household_id in self.left or claim.household_id in self.left:
            return Obstacle.LEFT
        if spare.household_id == claim.household_id:
            return Obstacle.OWN_ONLY
        if self.varieties[spare.variety_id].protected:
            return Obstacle.HELD
        if spare.material not in claim.materials or spare.material is Material.SEED:
            return Obstacle.MATERIAL
        if self.last_day(spare, claim) < self.first_day(spare):
            return Obstacle.WINDOW
        if (spare.place_id, claim.place_id) in self.blocked:
            return Obstacle.BORDER
        return self._shelter_or_room(spare, claim)

    def first_day(self, spare: Spare) -> date:
        """Give the first day on which a spare could be posted."""
        return max(spare.ready_from, self.case.closes_on)

    def last_day(self, spare: Spare, claim: Claim) -> date:
        """Give the last day on which a spare could be posted for a claim."""
        return (
            spare.send_by if claim.no_use_after is None else min(spare.send_by, claim.no_use_after)
        )

    def stock(self, spare: Spare) -> Stock:
        """Give what decides the shelter a spare needs."""
        if spare.id not in self._stocks:
            species = self.varieties[spare.variety_id].species
            self._stocks[spare.id] = Stock(species, spare.material, spare.raised)
        return self._stocks[spare.id]

    def depth(self, spare: Spare, claim: Claim) -> int:
        """Give how cold a shelter will do on the latest day, as an index into `WARM_TO_COLD`."""
        safe_from = self.case.safe_from.get(claim.place_id)
        key = (self.stock(spare), self.last_day(spare, claim), safe_from)
        if key not in self._depths:
            self._depths[key] = WARM_TO_COLD.index(coldest_fit(*key))
        return self._depths[key]

    def _shelter_or_room(self, spare: Spare, claim: Claim) -> Obstacle | None:
        """Say whether shelter, room or the organiser stands in the way."""
        depth = self.depth(spare, claim)
        free = self.room[claim.place_id]
        if free[depth] == -1:
            return Obstacle.SHELTER
        if any(one is not None and one <= 0 for one in free[depth:]):
            return Obstacle.ROOM
        return Obstacle.FORBIDDEN if (spare.id, claim.id) in self.forbidden else None


def _rooms(case: ShareOutCase) -> dict[int, tuple[int | None, ...]]:
    """Give the free room of every place, before anything that stands already."""
    by_place: dict[int, list[Shelter]] = {place.id: [] for place in case.places}
    for shelter in case.shelters:
        by_place.setdefault(shelter.place_id, []).append(shelter)
    for claim in case.claims:
        by_place.setdefault(claim.place_id, [])
    return {place: room_down_to(shelters, case.taken) for place, shelters in by_place.items()}


def wanted(claim: Claim) -> tuple[int, ...]:
    """Give the varieties a claim takes, the one asked for first, none twice."""
    return tuple(dict.fromkeys((claim.variety_id, *claim.alternatives)))


def _take(free: list[int | None], depth: int, taken: int) -> None:
    """Take room from one kind of shelter and from all rows that contain it, never below zero."""
    for index in range(depth, len(free)):
        left = free[index]
        if left is not None and left > 0:
            free[index] = max(0, left - taken)
