"""What cannot be worked out, said before any work is done."""

from enum import StrEnum

from exchange.domain.sharing.case import MOST_PLANTS, ShareOutCase
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.reason import Obstacle


class WrongQuantity(ValueError):
    """A number of plants that cannot be: below one or beyond what one entry may speak of."""


class PinRefused(ValueError):
    """The organiser wants an allocation that cannot be."""

    def __init__(self, spare_id: int, claim_id: int, obstacle: Obstacle | None) -> None:
        self.spare_id, self.claim_id, self.obstacle = spare_id, claim_id, obstacle
        super().__init__(
            f"The allocation of spare {spare_id} to claim {claim_id} cannot be"
            + (f": {obstacle.value}." if obstacle else ": there are not so many plants.")
        )


class Remark(StrEnum):
    """What the organiser should hear about a share-out as a whole."""

    NO_SPARES = "no_spares"
    NO_CLAIMS = "no_claims"
    ONLY_OWN = "only_own"
    NOTHING_MEETS = "nothing_meets"


def check_quantities(case: ShareOutCase) -> None:
    """Check every count and every pin of a case.

    Raises
    ------
    WrongQuantity
        when a count is below one or above `MOST_PLANTS`
    PinRefused
        when the organiser pins what cannot be
    """
    for spare in case.spares:
        _check(f"spare {spare.id}", spare.count)
    for claim in case.claims:
        _check(f"claim {claim.id}", claim.asked)
    for one in case.standing:
        _check(f"the allocation for claim {one.claim_id}", one.count)
    _check_pins(case)


def _check(what: str, plants: int) -> None:
    """Check one count."""
    if plants < 1:
        raise WrongQuantity(f"The number of plants of {what} is {plants}; it must be 1 or more.")
    if plants > MOST_PLANTS:
        raise WrongQuantity(
            f"The number of plants of {what} is {plants:,}; more than {MOST_PLANTS:,} cannot be right."
        )


def _check_pins(case: ShareOutCase) -> None:
    """Check that pins can be kept together with what stands."""
    spares = {one.id: one for one in case.spares}
    claims = {one.id: one for one in case.claims}
    lookups = PairingLookups(case)
    for pin in case.pins:
        spare, claim = spares.get(pin.spare_id), claims.get(pin.claim_id)
        if spare is None or claim is None or spare.variety_id not in wanted(claim):
            raise PinRefused(pin.spare_id, pin.claim_id, Obstacle.NOBODY_OFFERS)
        obstacle = lookups.obstacle(spare, claim)
        if obstacle is not None:
            raise PinRefused(spare.id, claim.id, obstacle)
    by_spare: dict[int, int] = {}
    by_claim: dict[int, int] = {}
    for one in case.standing:
        by_spare[one.spare_id] = by_spare.get(one.spare_id, 0) + one.count
        by_claim[one.claim_id] = by_claim.get(one.claim_id, 0) + one.count
        too_many = by_spare[one.spare_id] > spares[one.spare_id].count
        if too_many or by_claim[one.claim_id] > claims[one.claim_id].asked:
            raise PinRefused(one.spare_id, one.claim_id, None)


def remarks(case: ShareOutCase) -> tuple[Remark, ...]:
    """Say why a share-out as a whole gives nothing, if it does."""
    if not case.spares:
        return (Remark.NO_SPARES,)
    if not case.claims:
        return (Remark.NO_CLAIMS,)
    households = {one.household_id for one in case.spares}
    households |= {one.household_id for one in case.claims}
    if len(households) == 1:
        return (Remark.ONLY_OWN,)
    offered = {one.variety_id for one in case.spares}
    if not any(offered.intersection(wanted(claim)) for claim in case.claims):
        return (Remark.NOTHING_MEETS,)
    return ()
