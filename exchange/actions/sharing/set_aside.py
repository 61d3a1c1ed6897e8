"""Plants set aside for a member: outside the share-out, but planned and printed like the rest."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.borders import between
from exchange.domain.circle.border import Passage
from exchange.domain.circle.place import Place
from exchange.domain.posting.parcel import WITH_SENDER, ParcelState
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    HOUSEHOLDS,
    PARCEL_LINES,
    PARCELS,
    PLACES,
    SPARES,
    VARIETIES,
    Tx,
)
from exchange.records.rows.growing import SpareRow
from exchange.records.spares import give_back, take

FIELD = "set_aside_for"
MOST_SET_ASIDE = 100


class SetAsideRefusedError(RefusedError):
    """The plants cannot be set aside for that household."""


class BorderBlockedError(SetAsideRefusedError):
    """A border lies between the sender and the member it is set aside for."""


class OnTheirWayError(RefusedError):
    """Plants set aside have been posted already."""


def set_aside(tx: Tx, actor: Actor, spare_id: int, household_id: int, now: datetime) -> None:
    """Give a whole spare to one household: a claim and an allocation of it are written at once.

    Raises
    ------
    SetAsideRefusedError
        When it is one's own household, too many plants, or the spare is held.
    BorderBlockedError
        When a border blocks the way, with the authority named.
    """
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    _check(tx, actor, spare, household_id)
    place = _place_reached(tx, actor, spare, household_id)
    claim_id = CLAIMS.add(
        tx,
        actor.circle_id,
        household_id=household_id,
        place_id=place.id,
        variety_id=spare.variety_id,
        asked=spare.count,
        choice=1,
        materials=frozenset({spare.material}),
        no_use_after=None,
        alternatives=(),
        set_aside=True,
        made_at=now,
        entered_by=spare.entered_by,
    )
    SPARES.change(tx, actor.circle_id, spare.id, set_aside_for=household_id)
    ALLOCATIONS.add(
        tx,
        actor.circle_id,
        share_out_id=None,
        spare_id=spare.id,
        claim_id=claim_id,
        count=spare.count,
        state=AllocationState.AGREED,
        made_at=now,
    )
    take(tx, actor.circle_id, spare.id, spare.count)


def take_back(tx: Tx, actor: Actor, spare: SpareRow, now: datetime) -> None:
    """Undo a setting aside as long as nothing of it is on its way; the spare still says for whom."""
    for one in ALLOCATIONS.all(
        tx,
        actor.circle_id,
        spare_id=spare.id,
        share_out_id=None,
        state=STANDING,
    ):
        for line in PARCEL_LINES.all(tx, actor.circle_id, allocation_id=one.id):
            parcel = PARCELS.get(tx, actor.circle_id, line.parcel_id)
            if parcel.state not in WITH_SENDER:
                raise OnTheirWayError("These plants are on their way already.")
            if parcel.state is not ParcelState.RETURNED:
                PARCEL_LINES.remove(tx, actor.circle_id, line.id)
        ALLOCATIONS.change(
            tx, actor.circle_id, one.id, state=AllocationState.REFUSED, answered_at=now
        )
        CLAIMS.change(tx, actor.circle_id, one.claim_id, withdrawn_at=now)
        give_back(tx, actor.circle_id, spare.id, one.count)


def _check(tx: Tx, actor: Actor, spare: SpareRow, household_id: int) -> None:
    HOUSEHOLDS.get(tx, actor.circle_id, household_id)
    if household_id == spare.household_id:
        raise SetAsideRefusedError("Choose another household than the one that gives.", FIELD)
    if spare.count > MOST_SET_ASIDE:
        raise SetAsideRefusedError(
            f"At most {MOST_SET_ASIDE} plants can be set aside for one member.",
            FIELD,
        )
    if spare.held:
        variety = VARIETIES.get(tx, actor.circle_id, spare.variety_id)
        raise SetAsideRefusedError(
            (
                f"Breeders’ rights may apply, so it is held: ask {variety.authority}. "
                "List it without a name; set it aside once the organiser has let it go."
            ),
            FIELD,
        )


def _place_reached(tx: Tx, actor: Actor, spare: SpareRow, household_id: int) -> Place:
    """Give the household's first place that no border blocks."""
    places = PLACES.all(tx, actor.circle_id, household_id=household_id)
    if not places:
        raise SetAsideRefusedError("That household has not yet said where it grows.", FIELD)
    blocked = None
    for place in sorted(places, key=lambda one: one.id):
        row = between(tx, actor, spare.place_id, place.id)
        if row.passage is not Passage.BLOCKED:
            return place
        blocked = blocked or row
    raise BorderBlockedError(
        "{caution} Ask {authority}.".format(
            caution=blocked.caution if blocked else "",
            authority=(blocked.authority if blocked else "") or "the plant-health service",
        ).strip(),
        FIELD,
    )
