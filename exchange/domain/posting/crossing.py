"""Borders a parcel would cross, looked up in the circle's border table."""

from collections.abc import Iterable

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.circle.place import Place

EU = frozenset(
    {
        "AT",
        "BE",
        "BG",
        "CY",
        "CZ",
        "DE",
        "DK",
        "EE",
        "ES",
        "FI",
        "FR",
        "GR",
        "HR",
        "HU",
        "IE",
        "IT",
        "LT",
        "LU",
        "LV",
        "MT",
        "NL",
        "PL",
        "PT",
        "RO",
        "SE",
        "SI",
        "SK",
    }
)
"""Members of the European Union (from memory, 2026)."""


def areas(place: Place) -> tuple[str, ...]:
    """Name the plant-health areas of a place, the narrowest first."""
    if place.country == "GB":
        return ("NI",) if place.subdivision == "NIR" else ("GB",)
    if place.country == "US":
        return (f"US-{place.subdivision}", "US")
    return (place.country, "EU") if place.country in EU else (place.country,)


def crossing(rows: Iterable[BorderRow], sender: Place, receiver: Place) -> BorderRow | None:
    """Find the row that a parcel between two places falls under; the narrowest first.

    Within one area there is no border.
    """
    origins, destinations = areas(sender), areas(receiver)
    if origins[0] == destinations[0]:
        return None
    table = {(row.origin, row.destination): row for row in rows}
    for origin in (*origins, "*"):
        for destination in (*destinations, "*"):
            if (origin, destination) in table:
                return table[origin, destination]
    return None


def blocked(rows: Iterable[BorderRow], sender: Place, receiver: Place) -> BorderRow | None:
    """Give the row that blocks a parcel, or None."""
    row = crossing(rows, sender, receiver)
    return row if row is not None and row.passage is Passage.BLOCKED else None
