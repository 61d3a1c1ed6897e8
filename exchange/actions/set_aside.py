"""Plants set aside for a member: outside the share-out, but planned and printed like the rest."""

from datetime import datetime

from exchange.domain.circle.place import Place
from exchange.records import ALLOCATIONS, CLAIMS, SPARES, Tx
from exchange.records.spares import take
from exchange.records.values import SpareEntry


def set_aside(tx: Tx, circle_id: int, spare: SpareEntry, place: Place, now: datetime) -> None:
    """Give a whole spare to one household: a claim and an allocation of it are written at once."""
    claim_id = CLAIMS.add(
        tx,
        circle_id,
        household_id=place.household_id,
        place_id=place.id,
        variety_id=spare.variety_id,
        asked=min(spare.count, 100),
        choice=1,
        materials=frozenset({spare.material}),
        no_use_after=None,
        alternatives=(),
        set_aside=True,
        made_at=now,
        entered_by=spare.entered_by,
    )
    count = min(spare.count, 100)
    SPARES.change(tx, circle_id, spare.id, set_aside_for=place.household_id)
    ALLOCATIONS.add(
        tx, circle_id, share_out_id=None, spare_id=spare.id, claim_id=claim_id, count=count,
        state="agreed", made_at=now,
    )  # fmt: skip
    take(tx, circle_id, spare.id, count)
