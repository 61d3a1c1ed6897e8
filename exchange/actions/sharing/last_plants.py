"""The question before a last plant is listed; its holder answers it, or the organiser acting for them, who were asked."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.batch import Material
from exchange.domain.growing.last_plant import PlantsKept, last_plant
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission, Subject, may
from exchange.records import BATCHES, SPARES, Tx
from exchange.records.rows.growing import SpareRow
from exchange.words.sharing.spares import last_plant_question

FIELD = "may_go"


class LastPlantError(RefusedError):
    """It is somebody's last plant, or the circle's only one, and nobody has said that it may go."""


class OnlyHolderError(RefusedError):
    """Whoever says that a last plant may go is neither its holder nor acts for them."""


def kept_of(
    tx: Tx, circle_id: int, whose_of_what: tuple[int, int], today: date, besides: int = 0
) -> PlantsKept:
    """Count the living plants of a variety that a household has not listed, and all in the circle.

    Parameters
    ----------
    whose_of_what : household and variety
    besides : a spare that is left out of what is listed; 0 for none
    """
    household_id, variety_id = whose_of_what
    batches = BATCHES.all(tx, circle_id, variety_id=variety_id)
    spares = SPARES.all(
        tx, circle_id, household_id=household_id, variety_id=variety_id, withdrawn_at=None
    )
    listed = sum(
        one.count
        for one in spares
        if one.send_by >= today and one.material is not Material.UNROOTED and one.id != besides
    )
    own = sum(one.plants for one in batches if one.household_id == household_id)
    return PlantsKept(max(0, own - listed), sum(one.plants for one in batches))


@dataclass(frozen=True, slots=True)
class Listing:
    """Plants about to be listed.

    Attributes
    ----------
    count : plants [plants]
    may_go : whether it was said that a last plant may go
    before : the spare as it was, where one is changed; what was settled then is not asked again
    """

    variety: Variety
    material: Material
    count: int
    household_id: int
    may_go: bool
    before: SpareRow | None = None


def ask_about_last(tx: Tx, actor: Actor, listing: Listing, now: datetime) -> None:
    """Ask before a last plant is listed; that it may go is written down, with for whom it was said.

    Raises
    ------
    LastPlantError
        Where nobody has said that it may go.
    OnlyHolderError
        Where somebody else says so.
    """
    variety, before = listing.variety, listing.before
    today = today_in(circle_of(actor, tx), now)
    besides = before.id if before is not None else 0
    kept = kept_of(tx, actor.circle_id, (listing.household_id, variety.id), today, besides)
    if before is not None and _was_settled(before, variety, kept):
        return
    let_last_go(tx, actor, listing, kept, now)


def let_last_go(tx: Tx, actor: Actor, listing: Listing, kept: PlantsKept, now: datetime) -> None:
    """Ask before a last plant is listed, where it is known what would be left."""
    why = last_plant(kept, listing.count, listing.material)
    if why is None:
        return
    if not listing.may_go:
        raise LastPlantError(last_plant_question(why, listing.variety.name), FIELD)
    owner = Subject(owner=listing.household_id)
    if not may(actor.person, Permission.LET_LAST_PLANT_GO, owner):
        raise OnlyHolderError(
            "Only its holder can say that it may go. Act for them, if they said so.", FIELD
        )
    said = "they said so" if actor.acting_for is not None else "said so"
    note(tx, actor, "let a last plant go", f"{listing.variety.name}: {said}", now)


def _was_settled(before: SpareRow, variety: Variety, kept: PlantsKept) -> bool:
    same = before.variety_id == variety.id
    return same and last_plant(kept, before.count, before.material) is not None
