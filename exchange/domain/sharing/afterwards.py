"""After a share-out: what came free goes to the reserve, what is left over to whoever comes first.

The case is that of the share-out with all that stands kept. Nothing that stands is moved: only what is left of one
variety is given, by the same rules.
"""

from collections import Counter
from collections.abc import Container
from dataclasses import replace

from exchange.domain.optimise.programme import Watch
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.share_out import find, never_stop
from exchange.domain.sharing.spare import Spare


def give_reserve(
    case: ShareOutCase, variety_id: int, watch: Watch = never_stop
) -> tuple[Allocation, ...]:
    """Give what is left of a variety to the claims that still lack plants, by the rules in their order.

    Parameters
    ----------
    case : with what stands kept; pairs that were refused before are among its `forbids`

    Returns
    -------
    what is given beyond what stands

    Raises
    ------
    Stopped, WrongQuantity, Disagreement
        as for working out a share-out
    """
    alone = _only(case, variety_id)
    open_to = [one for one in alone.claims if variety_id in wanted(one)]
    if not open_to or not any(_left(alone, one.id) for one in alone.spares):
        return ()
    stood = {(one.spare_id, one.claim_id): one.count for one in alone.standing}
    more = [
        replace(one, count=one.count - stood.get((one.spare_id, one.claim_id), 0))
        for one in find(alone, watch).allocations
    ]
    return tuple(one for one in more if one.count)


def _only(case: ShareOutCase, variety_id: int) -> ShareOutCase:
    """Give the case in which of every other variety nothing is offered beyond what stands."""
    others = {one.id for one in case.spares if one.variety_id != variety_id}
    return as_they_stand(case, spares=others)


def as_they_stand(
    case: ShareOutCase, spares: Container[int] = (), claims: Container[int] = ()
) -> ShareOutCase:
    """Give the case in which these spares and claims keep what stands of them, and give or get no more."""
    sent, had = Counter[int](), Counter[int]()
    for one in case.standing:
        sent[one.spare_id] += one.count
        had[one.claim_id] += one.count
    giving = (replace(one, count=sent[one.id]) if one.id in spares else one for one in case.spares)
    asking = (replace(one, asked=had[one.id]) if one.id in claims else one for one in case.claims)
    return replace(
        case,
        spares=tuple(one for one in giving if one.count),
        claims=tuple(one for one in asking if one.asked),
    )


class LeftOverRefused(ValueError):
    """A left-over cannot go to this claim; the obstacle says why."""

    def __init__(self, obstacle: Obstacle) -> None:
        self.obstacle = obstacle
        super().__init__(f"This left-over cannot go to this claim: {obstacle.value}.")


def take_left_over(case: ShareOutCase, spare_id: int, claim: Claim) -> Allocation:
    """Give a left-over to a claim that comes first, all it asks for or nothing.

    Parameters
    ----------
    case : with what stands kept

    Raises
    ------
    LeftOverRefused
        when the claim does not take the variety, an obstacle stands in the way, or fewer are left than it asks
    """
    spare = next((one for one in case.spares if one.id == spare_id), None)
    if spare is None or spare.variety_id not in wanted(claim):
        raise LeftOverRefused(Obstacle.NOBODY_OFFERS)
    lookups = PairingLookups(replace(case, claims=(*case.claims, claim)))
    obstacle = lookups.obstacle(spare, claim)
    if obstacle is None and claim.asked > _left(case, spare_id):
        obstacle = Obstacle.FEWER
    if obstacle is None and not _has_room(lookups, spare, claim):
        obstacle = Obstacle.ROOM
    if obstacle is not None:
        raise LeftOverRefused(obstacle)
    return Allocation(spare_id, claim.id, claim.asked)


def _left(case: ShareOutCase, spare_id: int) -> int:
    """Count what is left of a spare [plants]."""
    offered = next(one.count for one in case.spares if one.id == spare_id)
    return offered - sum(one.count for one in case.standing if one.spare_id == spare_id)


def _has_room(lookups: PairingLookups, spare: Spare, claim: Claim) -> bool:
    """Say whether what stands already leaves room."""
    lookups.take_standing()
    free = lookups.room[claim.place_id][lookups.depth(spare, claim) :]
    return all(one is None or one >= claim.asked for one in free)
