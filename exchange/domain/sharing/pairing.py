"""Every spare held against every claim that wants its variety, all at once.

Spares that could serve the same claims, down to equally cold shelters, are pooled: no claim can tell them apart, so
pooling loses nothing. A household's own claim, a border or the organiser can keep a spare from a claim, and so
out of the pool of those that could serve it.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.batch import Material
from exchange.domain.growing.fit import ALWAYS, WARM_TO_COLD, OutFrom, Stock, fit_from
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.pairs import PairingLookups, Pairs, Pool, wanted
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.spare import Spare

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

ORDER = tuple(Obstacle)
NONE = -1
"""No obstacle."""

NEVER = date.max.toordinal()
KINDS: Mapping[Material, int] = {
    one: 1 << number for number, one in enumerate(Material) if one is not Material.SEED
}
"""A bit for each material; seed, which nobody may be sent, has none."""

SHELTERED = WARM_TO_COLD.index(ShelterKind.HEATED)
"""The coldest shelter that fits any stock on any day, as an index into `WARM_TO_COLD`."""


@dataclass(frozen=True, slots=True)
class Candidates:
    """Every spare with every claim that wants its variety, by claim, rank and spare.

    Attributes
    ----------
    obstacle : as an index into `ORDER`, or `NONE`
    """

    claim: Ints
    rank: Ints
    spare: Ints
    depth: Ints
    obstacle: Ints


def pair_up(case: ShareOutCase) -> Pairs:
    """Find every pool that could serve a claim; what stands already has its room taken first."""
    lookups = PairingLookups(case)
    lookups.take_standing()
    candidates = _with_obstacles(lookups)
    open_to = np.flatnonzero(candidates.obstacle == NONE)
    pools, first = _pooled(case, candidates, open_to)
    number = np.full(len(case.spares), -1, dtype=np.int64)
    number[first] = np.arange(len(first))
    stands_for = open_to[number[candidates.spare[open_to]] >= 0]
    served = candidates.claim[stands_for]
    return Pairs(
        pools=pools,
        pool=number[candidates.spare[stands_for]],
        claim=served,
        rank=candidates.rank[stands_for],
        depth=candidates.depth[stands_for],
        room=lookups.room,
        obstacles=_nearest(case, candidates, served),
    )


def _pooled(
    case: ShareOutCase, candidates: Candidates, open_to: Ints
) -> tuple[tuple[Pool, ...], Ints]:
    """Put together the spares that could serve the same claims; give the pools and each one's first spare."""
    by_spare = open_to[np.argsort(candidates.spare[open_to], kind="stable")]
    seen = np.stack([candidates.claim, candidates.rank, candidates.depth], axis=1)[by_spare]
    spares, starts = np.unique(candidates.spare[by_spare], return_index=True)
    ends = np.append(starts[1:], len(by_spare))[: len(starts)]
    groups: defaultdict[tuple[int, bytes], list[int]] = defaultdict(list)
    for spare, start, end in zip(spares.tolist(), starts.tolist(), ends.tolist(), strict=True):
        groups[case.spares[spare].variety_id, seen[start:end].tobytes()].append(spare)
    pools = tuple(Pool(tuple(group), variety) for (variety, _), group in groups.items())
    return pools, np.array([pool.spares[0] for pool in pools], dtype=np.int64)


def _nearest(
    case: ShareOutCase, candidates: Candidates, served: Ints
) -> dict[int, tuple[Obstacle, Spare | None]]:
    """Give, for each claim without a pair, the obstacle of the spare that came nearest, the first of several."""
    found: dict[int, tuple[Obstacle, Spare | None]] = {}
    nearest = {one: (ORDER.index(Obstacle.NOBODY_OFFERS), -1) for one in range(len(case.claims))}
    without = np.ones(len(case.claims), dtype=bool)
    without[served] = False
    alone = np.flatnonzero(without[candidates.claim])
    columns = (candidates.claim[alone], candidates.obstacle[alone], candidates.spare[alone])
    for claim, obstacle, spare in zip(*(one.tolist() for one in columns), strict=True):
        if obstacle > nearest[claim][0]:
            nearest[claim] = (obstacle, spare)
    for claim, (obstacle, spare) in nearest.items():
        if without[claim]:
            found[claim] = (ORDER[obstacle], case.spares[spare] if spare >= 0 else None)
    return found


def _with_obstacles(lookups: PairingLookups) -> Candidates:
    """Hold every spare against every claim that wants its variety."""
    case = lookups.case
    claim, rank, spare = _candidates(case)
    spares, claims = case.spares, case.claims
    first = _ints(lookups.first_day(one).toordinal() for one in spares)[spare]
    send_by = _ints(one.send_by.toordinal() for one in spares)[spare]
    no_use = _ints(
        NEVER if one.no_use_after is None else one.no_use_after.toordinal() for one in claims
    )[claim]
    last = np.minimum(send_by, no_use)
    depth = _depths(lookups, claim, spare, last)
    material = _ints(KINDS.get(one.material, 0) for one in spares)[spare]
    takes = _ints(sum(KINDS.get(one, 0) for one in claim.materials) for claim in claims)[claim]
    left = lookups.left
    gone = np.array([one.household_id in left for one in spares], dtype=bool)[spare]
    gone |= np.array([one.household_id in left for one in claims], dtype=bool)[claim]
    own = _ints(one.household_id for one in spares)[spare]
    own = own == _ints(one.household_id for one in claims)[claim]
    held = np.array([lookups.varieties[one.variety_id].protected for one in spares], dtype=bool)
    blocked = _among(lookups.blocked, case, lambda one: one.place_id, (spare, claim))
    forbidden = _among(lookups.forbidden, case, lambda one: one.id, (spare, claim))
    shelter, room = _without_room(lookups, claim, depth)
    in_order: tuple[tuple[Obstacle, Bools], ...] = (
        (Obstacle.LEFT, gone),
        (Obstacle.OWN_ONLY, own),
        (Obstacle.HELD, held[spare]),
        (Obstacle.MATERIAL, (material & takes) == 0),
        (Obstacle.WINDOW, last < first),
        (Obstacle.BORDER, blocked),
        (Obstacle.SHELTER, shelter),
        (Obstacle.ROOM, room),
        (Obstacle.FORBIDDEN, forbidden),
    )
    obstacle = np.full(len(claim), NONE, dtype=np.int64)
    # Backwards, so that the first obstacle in the order is written last and stands.
    for what, where in reversed(in_order):
        obstacle[where] = ORDER.index(what)
    return Candidates(claim, rank, spare, depth, obstacle)


def _candidates(case: ShareOutCase) -> tuple[Ints, Ints, Ints]:
    """Give claim, rank and spare of every spare of a variety that a claim wants."""
    by_variety: defaultdict[int, list[int]] = defaultdict(list)
    for number, spare in enumerate(case.spares):
        by_variety[spare.variety_id].append(number)
    wishes = [
        (number, rank, by_variety[variety])
        for number, claim in enumerate(case.claims)
        for rank, variety in enumerate(wanted(claim))
        if variety in by_variety
    ]
    lengths = _ints(len(those) for _, _, those in wishes)
    claim = np.repeat(_ints(number for number, _, _ in wishes), lengths)
    rank = np.repeat(_ints(rank for _, rank, _ in wishes), lengths)
    return claim, rank, _ints(one for _, _, those in wishes for one in those)


def _depths(lookups: PairingLookups, claim: Ints, spare: Ints, last: Ints) -> Ints:
    """Give how cold a shelter will do on the latest day, as an index into `WARM_TO_COLD`."""
    stocks: dict[Stock, int] = {}
    kind = _ints(stocks.setdefault(lookups.stock(one), len(stocks)) for one in lookups.case.spares)
    days: dict[OutFrom | None, int] = {}
    safe = _ints(
        days.setdefault(lookups.case.safe_from.get(one.place_id), len(days))
        for one in lookups.case.claims
    )
    depth = np.full(len(claim), SHELTERED, dtype=np.int64)
    fits = np.ones(len(claim), dtype=bool)
    for shelter in WARM_TO_COLD[SHELTERED + 1 :]:
        table = np.array(
            [[_ordinal(fit_from(shelter, stock, day)) for day in days] for stock in stocks],
            dtype=np.int64,
        ).reshape(len(stocks), len(days))
        fits &= table[kind[spare], safe[claim]] <= last
        depth += fits
    return depth


def _ordinal(day: date | None) -> int:
    """Give a day as a number: none, never."""
    return NEVER + 1 if day is None else 0 if day is ALWAYS else day.toordinal()


def _without_room(lookups: PairingLookups, claim: Ints, depth: Ints) -> tuple[Bools, Bools]:
    """Say where a claim's place has no shelter that fits, and where it has one but no room."""
    places = {one: number for number, one in enumerate(lookups.room)}
    missing = np.array([[free == -1 for free in row] for row in lookups.room.values()], dtype=bool)
    full = np.array(
        [
            [any(one is not None and one <= 0 for one in row[depth:]) for depth in range(len(row))]
            for row in lookups.room.values()
        ],
        dtype=bool,
    )
    place = _ints(places[one.place_id] for one in lookups.case.claims)[claim]
    shape = (len(places), len(WARM_TO_COLD))
    return missing.reshape(shape)[place, depth], full.reshape(shape)[place, depth]


def _among(
    those: Iterable[tuple[int, int]],
    case: ShareOutCase,
    number: Callable[[Spare | Claim], int],
    where: tuple[Ints, Ints],
) -> Bools:
    """Say where the numbers of a spare and of a claim are one of those pairs."""
    here, there = [number(one) for one in case.spares], [number(one) for one in case.claims]
    starts, ends = _numbered(here), _numbered(there)
    wide = len(ends) + 1
    codes = [starts[one] * wide + ends[two] for one, two in those if one in starts and two in ends]
    if not codes:
        return np.zeros(len(where[0]), dtype=bool)
    first = _ints(starts[one] for one in here)[where[0]]
    second = _ints(ends[one] for one in there)[where[1]]
    return np.asarray(np.isin(first * wide + second, codes), dtype=bool)


def _numbered(values: list[int]) -> Mapping[int, int]:
    """Give each different value a number."""
    return {one: number for number, one in enumerate(dict.fromkeys(values))}


def _ints(values: Iterable[int]) -> Ints:
    """Put whole numbers into an array."""
    return np.fromiter(values, dtype=np.int64)
