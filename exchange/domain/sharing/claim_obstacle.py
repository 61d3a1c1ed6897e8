"""What keeps every spare from a claim before any share-out, and the one change of the claim that would help."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from exchange.domain.growing.batch import Material
from exchange.domain.growing.fit import fits_at_place
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle
from exchange.domain.sharing.spare import Spare

ORDER = tuple(Obstacle)


@dataclass(frozen=True, slots=True)
class ClaimObstacle:
    """Why nothing offered could go to a claim.

    Attributes
    ----------
    reason : what stands in the way of the spare that comes nearest
    change : the claim with what would help changed, or None where no change of the claim alone helps
    """

    reason: ClaimReason
    change: Claim | None = None


def claim_obstacle(case: ShareOutCase, claim: Claim) -> ClaimObstacle | None:
    """Say why nothing offered could go to a claim, or None where something could.

    Fewer plants are never the change: a claim is met in part too, so one that could be given fewer is not kept from all.

    Parameters
    ----------
    case : the spares, places and shelters; its claims are not looked at
    """
    lookups = PairingLookups(replace(case, claims=(claim,), kept=(), pins=()))
    offers = [one for variety in wanted(claim) for one in case.spares if one.variety_id == variety]
    obstacles = [(lookups.obstacle(one, claim), one) for one in offers]
    if not offers:
        return ClaimObstacle(
            ClaimReason(ClaimOutcome.UNMET, claim.asked, 0, Obstacle.NOBODY_OFFERS)
        )
    stands = [(found, one) for found, one in obstacles if found is not None]
    if len(stands) < len(obstacles):
        return None
    nearest, spare = max(stands, key=lambda pair: ORDER.index(pair[0]))
    others = [one for one in offers if one.household_id != claim.household_id]
    change = next(_changes(lookups, claim, others), None)
    plain = ClaimReason(ClaimOutcome.UNMET, claim.asked, 0, nearest)
    return ClaimObstacle(told_of(lookups, plain, claim, (spare,)), change)


def _changes(lookups: PairingLookups, claim: Claim, offers: list[Spare]) -> Iterator[Claim]:
    """Give each change of the claim that helps: a material, a later day, another place of its own, or two of these."""
    places = [one.id for one in lookups.case.places if one.household_id == claim.household_id]
    elsewhere = [replace(claim, place_id=one) for one in places if one != claim.place_id]
    for start in (claim, *elsewhere):
        wider = [replace(start, materials=start.materials | {one}) for one in _kinds(start, offers)]
        for tried in (start, *wider):
            if any(lookups.obstacle(one, tried) is None for one in offers):
                yield tried
        for tried in (start, *wider):
            days = [_earliest(lookups, tried, one) for one in offers]
            known = [day for day in days if day is not None]
            if known:
                yield replace(tried, no_use_after=min(known))


def _kinds(claim: Claim, offers: list[Spare]) -> list[Material]:
    """Give the materials offered that the claim does not take; seed is never sent."""
    offered = dict.fromkeys(one.material for one in offers)
    return [one for one in offered if one not in claim.materials and one is not Material.SEED]


def _earliest(lookups: PairingLookups, claim: Claim, spare: Spare) -> date | None:
    """Give the earliest later day of use by which the spare could go; every later one does as well."""
    if claim.no_use_after is None:
        return None
    after = claim.no_use_after + timedelta(days=1)
    days = range(after.toordinal(), spare.send_by.toordinal() + 1)

    def could_go(day: int) -> bool:
        return lookups.obstacle(spare, replace(claim, no_use_after=date.fromordinal(day))) is None

    found = bisect_left(days, True, key=could_go)
    return date.fromordinal(days[found]) if found < len(days) else None


def told_of(
    lookups: PairingLookups, plain: ClaimReason, claim: Claim, spares: Sequence[Spare]
) -> ClaimReason:
    """Add what an obstacle's own table says: caution and authority, or the first day a shelter fits any of the spares that met it."""
    if plain.obstacle is Obstacle.BORDER:
        row = lookups.case.passage.get((spares[0].place_id, claim.place_id))
        return replace(plain, caution=row.caution, authority=row.authority) if row else plain
    if plain.obstacle is Obstacle.HELD:
        return replace(plain, authority=lookups.varieties[spares[0].variety_id].authority)
    if plain.obstacle is Obstacle.SHELTER:
        stand = tuple(one for one in lookups.case.shelters if one.place_id == claim.place_id)
        out = lookups.case.safe_from.get(claim.place_id)
        days = [fits_at_place(stand, lookups.stock(one), out) for one in spares]
        fits = min((one for one in days if one is not None), default=None)
        return replace(plain, fits_from=fits)
    return plain
