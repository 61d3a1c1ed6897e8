"""The hours of the day at which something is sent, wherever a circle is."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor
from exchange.domain.posting.rounds import just_struck
from exchange.records import PLACES

CAUGHT_UP_WITHIN = timedelta(hours=2)
"""How long after its hour a round missed by a stopped machine is still made up for."""


def just_struck_anywhere(actor: Actor, hours: Iterable[int], now: datetime) -> bool:
    """Say whether one of the hours has just struck at any place of the circle."""
    with actor.books.reading() as tx:
        zones = {place.zone for place in PLACES.all(tx, actor.circle_id)}
    wanted = tuple(hours)
    return any(
        just_struck(now.astimezone(ZoneInfo(zone)), wanted, CAUGHT_UP_WITHIN) for zone in zones
    )
