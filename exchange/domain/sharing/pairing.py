"""Every spare held against every claim that wants its variety.

Spares that could serve the same claims, down to equally cold shelters, are pooled: no claim can tell them apart, so
pooling loses nothing. A household's own claim, a border or the organiser can keep a spare from a claim, and so
out of the pool of those that could serve it.
"""

from collections import defaultdict

import numpy as np

from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.pairs import PairingLookups, Pairs, Pool, wanted
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.spare import Spare

ORDER = {one: number for number, one in enumerate(Obstacle)}

Nearest = tuple[Obstacle, Spare | None]


def pair_up(case: ShareOutCase) -> Pairs:
    """Find every pool that could serve a claim; what stands already has its room taken first."""
    lookups = PairingLookups(case)
    lookups.take_standing()
    offers: defaultdict[int, list[int]] = defaultdict(list)
    for number, spare in enumerate(case.spares):
        offers[spare.variety_id].append(number)
    served: defaultdict[int, list[tuple[int, int, int]]] = defaultdict(list)
    obstacles: dict[int, Nearest] = {}
    for number, claim in enumerate(case.claims):
        nearest: Nearest | None = (Obstacle.NOBODY_OFFERS, None)
        for rank, variety in enumerate(wanted(claim)):
            for place in offers.get(variety, ()):
                spare = case.spares[place]
                obstacle = lookups.obstacle(spare, claim)
                if obstacle is None:
                    served[place].append((number, rank, lookups.depth(spare, claim)))
                    nearest = None
                elif nearest is not None and ORDER[obstacle] > ORDER[nearest[0]]:
                    nearest = (obstacle, spare)
        if nearest is not None:
            obstacles[number] = nearest
    return _pooled(case, served, lookups, obstacles)


def _pooled(
    case: ShareOutCase,
    served: dict[int, list[tuple[int, int, int]]],
    lookups: PairingLookups,
    obstacles: dict[int, Nearest],
) -> Pairs:
    """Put together the spares that could serve the same claims; the columns go by claim, rank and first spare."""
    groups: defaultdict[tuple[int, tuple[tuple[int, int, int], ...]], list[int]] = defaultdict(list)
    for spare in sorted(served):
        groups[case.spares[spare].variety_id, tuple(served[spare])].append(spare)
    columns = sorted(
        (claim, rank, number, depth)
        for number, (_, those) in enumerate(groups)
        for claim, rank, depth in those
    )
    claim, rank, pool, depth = np.array(columns, dtype=np.int64).reshape(-1, 4).T.copy()
    return Pairs(
        pools=tuple(Pool(tuple(those), variety) for (variety, _), those in groups.items()),
        pool=pool,
        claim=claim,
        rank=rank,
        depth=depth,
        room=lookups.room,
        obstacles=obstacles,
    )
