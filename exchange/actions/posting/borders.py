"""What stands in the way between two places of the circle."""

from exchange.actions.kernel.actor import Actor
from exchange.domain.circle.border import BorderRow, passage
from exchange.records import PLACES, Tx
from exchange.reference.borders import border_rows


def between(tx: Tx, actor: Actor, origin_id: int, destination_id: int) -> BorderRow:
    """Give the border row that speaks for a parcel from one place to another."""
    origin = PLACES.get(tx, actor.circle_id, origin_id)
    destination = PLACES.get(tx, actor.circle_id, destination_id)
    return passage(origin, destination, border_rows())
