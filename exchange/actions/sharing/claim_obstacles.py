"""Which claims of a household nothing offered can meet, why, and what would change it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import today_in
from exchange.actions.sharing.page_spare import open_share_out
from exchange.actions.sharing.share_out_case import offers_case
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.claim_obstacle import claim_obstacle
from exchange.domain.sharing.reason import Obstacle
from exchange.records import Tx, circles
from exchange.records.rows.growing import ClaimRow
from exchange.words.sharing.claim_obstacle import cannot_be_met, press

ITS_PLACE = frozenset({Obstacle.SHELTER, Obstacle.ROOM})
"""What a shelter, or more room in one, would take away."""


@dataclass(frozen=True, slots=True)
class CannotBeMet:
    """What is said of a claim that nothing offered can meet.

    Attributes
    ----------
    sentence : that it cannot, and why
    press : the words on the button that would change it, empty where no change of the claim would
    change : the claim as that button makes it
    shelters_of : the place whose shelters stand in the way, where no change of the claim helps; or None
    """

    sentence: str
    press: str = ""
    change: Claim | None = None
    shelters_of: int | None = None


def cannot_be_met_now(
    tx: Tx, circle_id: int, claims: Sequence[ClaimRow], now: datetime
) -> dict[int, CannotBeMet]:
    """Give what is said of each claim of one household that nothing offered can meet, by claim.

    Nothing is said where nobody offers it at all, nor once the share-out has closed.
    """
    if not claims:
        return {}
    closes_on = _still_changed_before(tx, circle_id, now)
    if closes_on is None:
        return {}
    case, asking = offers_case(tx, circle_id, claims, closes_on)
    places = {one.id: one.name for one in case.places}
    found = {}
    for claim in asking:
        there = claim_obstacle(case, claim)
        if there is None or there.reason.obstacle is Obstacle.NOBODY_OFFERS:
            continue
        sentence = cannot_be_met(there.reason)
        if there.change is not None:
            found[claim.id] = CannotBeMet(
                sentence, press(claim, there.change, places), there.change
            )
        else:
            blocked = there.reason.obstacle in ITS_PLACE
            found[claim.id] = CannotBeMet(sentence, shelters_of=claim.place_id if blocked else None)
    return found


def _still_changed_before(tx: Tx, circle_id: int, now: datetime) -> date | None:
    """Give the day before which nothing is posted; None once the share-out has closed."""
    today = today_in(circles.get(tx, circle_id), now)
    running = open_share_out(tx, circle_id)
    if running is None:
        return today
    return running.closes_on if running.closes_on >= today else None
