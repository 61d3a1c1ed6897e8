"""Which spares could serve which claims, and what stands in the way of the others.

Identical spares are pooled: same variety, material, how raised and window, with nothing that tells them apart for any
claim. A household that also claims the variety keeps a pool of its own, so pooling never gives a plant to its giver.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from exchange.domain.circle.border import Passage
from exchange.domain.growing.batch import Material
from exchange.domain.growing.fit import WARM_TO_COLD, Stock, coldest_fit
from exchange.domain.growing.room import pots, room_down_to
from exchange.domain.growing.shelter import Shelter
from exchange.domain.sharing.case import Case
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.spare import Spare

ORDER = tuple(Obstacle)


@dataclass(frozen=True, slots=True)
class Pool:
    """Spares that no claim can tell apart, as indices into the case; all of one variety."""

    spares: tuple[int, ...]
    variety_id: int


@dataclass(frozen=True, slots=True)
class Pair:
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


@dataclass(frozen=True, slots=True)
class Pairs:
    """All that could be.

    Attributes
    ----------
    room : by place, free room down to each kind of shelter, None is no limit [pots]
    obstacles : by claim index without any pair: what stood in the way, and the spare that came nearest
    """

    pools: tuple[Pool, ...]
    pairs: tuple[Pair, ...]
    room: Mapping[int, tuple[int | None, ...]]
    obstacles: Mapping[int, tuple[Obstacle, Spare | None]]


class Ground:
    """What pairing looks up again and again in one case."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.left = {one.id for one in case.households if one.left}
        self.varieties = {one.id: one for one in case.varieties}
        self.forbidden = frozenset(case.forbids)
        self.blocked = {
            ends
            for ends, row in case.passage.items()
            if row is not None and row.passage is Passage.BLOCKED
        }
        self.blocked_origins = {origin for origin, _ in self.blocked}
        self.room = _rooms(case)
        self._depths: dict[tuple[Stock, date, date | None], int] = {}

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
        return Stock(self.varieties[spare.variety_id].species, spare.material, spare.raised)

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


def _rooms(case: Case) -> dict[int, tuple[int | None, ...]]:
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


def pair_up(case: Case) -> Pairs:
    """Find every pool that could serve a claim; what stands already has its room taken first."""
    ground = Ground(case)
    ground.room = _less_standing(ground)
    pools = _pooled(ground)
    of_variety = defaultdict(list)
    for number, pool in enumerate(pools):
        of_variety[pool.variety_id].append(number)
    pairs: list[Pair] = []
    obstacles: dict[int, tuple[Obstacle, Spare | None]] = {}
    for index in range(len(case.claims)):
        found, nearest = _of_claim(ground, pools, of_variety, index)
        pairs += found
        if not found:
            obstacles[index] = nearest
    return Pairs(tuple(pools), tuple(pairs), ground.room, obstacles)


def _of_claim(
    ground: Ground, pools: list[Pool], of_variety: Mapping[int, list[int]], index: int
) -> tuple[list[Pair], tuple[Obstacle, Spare | None]]:
    """Find the pairs of one claim, and the obstacle of the spare that came nearest."""
    claim = ground.case.claims[index]
    found: list[Pair] = []
    nearest: tuple[Obstacle, Spare | None] = (Obstacle.NOBODY_OFFERS, None)
    for rank, variety_id in enumerate(wanted(claim)):
        for number in of_variety.get(variety_id, ()):
            spare = ground.case.spares[pools[number].spares[0]]
            obstacle = ground.obstacle(spare, claim)
            if obstacle is None:
                found.append(Pair(number, index, rank, ground.depth(spare, claim)))
            elif ORDER.index(obstacle) > ORDER.index(nearest[0]):
                nearest = (obstacle, spare)
    return found, nearest


def _pooled(ground: Ground) -> list[Pool]:
    """Put together the spares that no claim can tell apart, in the order of the case."""
    claiming: defaultdict[int, set[int]] = defaultdict(set)
    for claim in ground.case.claims:
        for variety_id in wanted(claim):
            claiming[variety_id].add(claim.household_id)
    singled_out = {spare_id for spare_id, _ in ground.forbidden}
    groups: defaultdict[tuple[object, ...], list[int]] = defaultdict(list)
    for index, spare in enumerate(ground.case.spares):
        own = spare.household_id in claiming[spare.variety_id] or spare.household_id in ground.left
        key = (
            spare.variety_id,
            spare.material,
            spare.raised,
            ground.first_day(spare),
            spare.send_by,
            spare.place_id if spare.place_id in ground.blocked_origins else None,
            spare.household_id if own else None,
            spare.id if spare.id in singled_out else None,
        )
        groups[key].append(index)
    return [Pool(tuple(group), int(str(key[0]))) for key, group in groups.items()]


def _less_standing(ground: Ground) -> dict[int, tuple[int | None, ...]]:
    """Take off the room of allocations that stand already."""
    spares = {one.id: one for one in ground.case.spares}
    claims = {one.id: one for one in ground.case.claims}
    room = {place: list(free) for place, free in ground.room.items()}
    for one in ground.case.standing:
        spare, claim = spares[one.spare_id], claims[one.claim_id]
        _take(room[claim.place_id], ground.depth(spare, claim), pots(one.count))
    return {place: tuple(free) for place, free in room.items()}


def _take(free: list[int | None], depth: int, taken: int) -> None:
    """Take room from one kind of shelter and all nests it lies in, never below nothing."""
    for index in range(depth, len(free)):
        left = free[index]
        if left is not None and left > 0:
            free[index] = max(0, left - taken)
