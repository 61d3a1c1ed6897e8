"""The packaged ways of sending; their numbers are stable."""

from datetime import time
from functools import cache

from exchange.domain.posting.way import Carriage, Way
from exchange.reference.tables import rows_of

ANY_COUNTRY = "*"


@cache
def ways() -> tuple[Way, ...]:
    """Give the packaged ways of every country; odds are Dirichlet weights [parcels]."""
    return tuple(_way(row) for row in rows_of("ways.csv"))


def ways_of(country: str) -> tuple[Way, ...]:
    """Give the ways of a country, by hand among them; a country without rows has by hand only."""
    return tuple(way for way in ways() if way.country in (country, ANY_COUNTRY))


def _way(row: dict[str, str]) -> Way:
    return Way(
        id=int(row["id"]),
        name=row["name"],
        country=row["country"],
        carriage=Carriage(row["carriage"]),
        odds=tuple(float(weight) for weight in row["odds"].split()),
        hand_over_weekdays=_weekdays(row["hand_over_weekdays"]),
        delivery_weekdays=_weekdays(row["delivery_weekdays"]),
        cut_off=time.fromisoformat(row["cut_off"]),
        depot_offset_c=float(row["depot_offset_c"]),
        quick=row["quick"] == "yes",
        source=row["source"],
    )


def _weekdays(text: str) -> frozenset[int]:
    return frozenset(int(weekday) for weekday in text.split())
