"""After a share-out: a spare that failed, a claim that was declined, what is left over, what is carried over.

Nothing that stands is moved: it is kept, and only the rest is worked out again, by the same rules.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from exchange.domain.sharing.case import Allocation, Case
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairs import Ground, pair_up, wanted
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.rules import contested_pairs


@dataclass(frozen=True, slots=True)
class LeftOver:
    """Plants nobody was given.

    Attributes
    ----------
    count : still to be had [plants]
    """

    spare_id: int
    count: int


def after_failure(
    case: Case, allocations: Sequence[Allocation], spare_id: int, still: int = 0
) -> Case:
    """Give the case to work out when a spare has failed: the reserve moves up and nobody else is moved.

    Parameters
    ----------
    still : how many plants of the spare are left to send; those allocated first are the ones that stay [plants]
    """
    kept, left = [], still
    for one in sorted(allocations):
        count = one.count
        if one.spare_id == spare_id:
            count = min(count, left)
            left -= count
        if count:
            kept.append(replace(one, count=count))
    spares = tuple(
        replace(one, count=still) if one.id == spare_id else one
        for one in case.spares
        if one.id != spare_id or still > 0
    )
    forbids = tuple(one for one in case.forbids if still > 0 or one[0] != spare_id)
    return replace(case, spares=spares, kept=tuple(kept), pins=(), forbids=forbids)


def after_decline(case: Case, allocations: Sequence[Allocation], claim_id: int) -> Case:
    """Give the case to work out when a claim was declined: its plants go to the reserve, nobody else is moved."""
    return replace(
        case,
        claims=tuple(one for one in case.claims if one.id != claim_id),
        kept=tuple(one for one in allocations if one.claim_id != claim_id),
        pins=(),
        forbids=tuple(one for one in case.forbids if one[1] != claim_id),
    )


def pinned(case: Case, pins: Iterable[Allocation], forbids: Iterable[tuple[int, int]] = ()) -> Case:
    """Give the case with what the organiser wants, the rest to be worked out again."""
    return replace(case, pins=tuple(pins), forbids=(*case.forbids, *forbids))


def left_overs(case: Case, allocations: Iterable[Allocation]) -> tuple[LeftOver, ...]:
    """Give what is left over and open to whoever comes first."""
    gone: Counter[int] = Counter()
    for one in allocations:
        gone[one.spare_id] += one.count
    left = {one.id for one in case.households if one.left}
    return tuple(
        LeftOver(one.id, one.count - gone[one.id])
        for one in case.spares
        if one.count > gone[one.id] and one.household_id not in left
    )


class NotToBeHad(ValueError):
    """A left-over cannot go to this claim; the obstacle says why."""

    def __init__(self, obstacle: Obstacle) -> None:
        self.obstacle = obstacle
        super().__init__(f"This left-over cannot go to this claim: {obstacle.value}.")


def take_left_over(
    case: Case, allocations: Sequence[Allocation], spare_id: int, claim: Claim
) -> Allocation:
    """Give a left-over to a claim that comes first, all it asks for or nothing.

    Raises
    ------
    NotToBeHad
        when the claim does not take the variety, an obstacle stands in the way, or fewer are left than it asks
    """
    spare = next((one for one in case.spares if one.id == spare_id), None)
    if spare is None or spare.variety_id not in wanted(claim):
        raise NotToBeHad(Obstacle.NOBODY_OFFERS)
    standing = replace(
        case,
        kept=tuple(allocations),
        pins=(),
        claims=(*(one for one in case.claims if one.id != claim.id), claim),
    )
    obstacle = Ground(standing).obstacle(spare, claim)
    if obstacle is None and claim.asked > _left(case, allocations, spare_id):
        obstacle = Obstacle.FEWER
    if obstacle is None:
        obstacle = _room_now(standing, spare_id, claim)
    if obstacle is not None:
        raise NotToBeHad(obstacle)
    return Allocation(spare_id, claim.id, claim.asked)


def _left(case: Case, allocations: Iterable[Allocation], spare_id: int) -> int:
    """Count what is left of a spare [plants]."""
    return next((one.count for one in left_overs(case, allocations) if one.spare_id == spare_id), 0)


def _room_now(standing: Case, spare_id: int, claim: Claim) -> Obstacle | None:
    """Say whether what stands already leaves room, and whether the household may have more."""
    pairs = pair_up(standing)
    spare = next(one for one in standing.spares if one.id == spare_id)
    depth = Ground(standing).depth(spare, claim)
    free = pairs.room[claim.place_id][depth:]
    if any(one is not None and one < claim.asked for one in free):
        return Obstacle.ROOM
    what = measure(standing, pairs)
    had = contested_pairs(standing, standing.kept, what)
    key = (claim.household_id, spare.variety_id)
    over = had.get(key, 0) + claim.asked > standing.terms.most_contested
    return Obstacle.MOST if spare.variety_id in what.contested and over else None


def carried_over(case: Case, allocations: Iterable[Allocation]) -> tuple[Claim, ...]:
    """Give the claims that go into the next share-out, asking for what they still lack."""
    given: Counter[int] = Counter()
    for one in allocations:
        given[one.claim_id] += one.count
    left = {one.id for one in case.households if one.left}
    return tuple(
        replace(one, asked=one.asked - given[one.id])
        for one in case.claims
        if one.asked > given[one.id] and one.household_id not in left
    )
