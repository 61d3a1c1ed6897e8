"""The ways of sending a circle uses: the packaged ones for each country its places are in."""

from exchange.domain.posting.way import Way
from exchange.records import PLACES, WAYS, Tx
from exchange.reference.ways import ANY_COUNTRY, ways_of


def ensure_ways(tx: Tx, circle_id: int) -> None:
    """Add the packaged ways of every country of the circle that it does not know yet.

    By hand is among every country's ways, and a circle without a place has it too.
    """
    for way in missing_ways(tx, circle_id):
        WAYS.add(
            tx,
            circle_id,
            name=way.name,
            country=way.country,
            carriage=way.carriage,
            odds=way.odds,
            hand_over_weekdays=way.hand_over_weekdays,
            delivery_weekdays=way.delivery_weekdays,
            cut_off_hour=way.cut_off.hour + way.cut_off.minute / 60,
            depot_offset_c=way.depot_offset_c,
            quick=way.quick,
            source=way.source,
        )


def missing_ways(tx: Tx, circle_id: int) -> tuple[Way, ...]:
    """Give the packaged ways a circle does not know yet, each name once."""
    known = {one.name for one in WAYS.all(tx, circle_id)}
    countries = sorted({ANY_COUNTRY, *(one.country for one in PLACES.all(tx, circle_id))})
    found: dict[str, Way] = {}
    for way in (way for country in countries for way in ways_of(country)):
        if way.name not in known:
            found.setdefault(way.name, way)
    return tuple(found.values())
