"""Borders between places: what is blocked, what is asked about, and which authority to ask.

The program never rules on law. A row states the usual caution and names the authority.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from exchange.domain.circle.place import Place

ANYWHERE = "*"

_EUROPEAN_UNION = frozenset(
    {
        *("AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU"),
        *("IE", "IT", "LT", "LU", "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK"),
    }
)


class Passage(StrEnum):
    """What the circle does with a parcel over this border."""

    ALLOWED = "allowed"
    NOTED = "noted"
    BLOCKED = "blocked"


@dataclass(frozen=True, slots=True)
class BorderRow:
    """One row of the border table.

    Attributes
    ----------
    origin, destination : plant-health areas: "GB", "NI", "EU", a two-letter country, or "US-OR"; "*" is any other area
    passage : what the circle does
    caution : the usual caution, in one sentence
    authority : whom to ask
    as_of : the day the row was last looked at
    source : where the caution comes from
    """

    origin: str
    destination: str
    passage: Passage
    caution: str
    authority: str
    as_of: date | None = None
    source: str = ""


def areas(place: Place) -> tuple[str, ...]:
    """Give the plant-health areas a place lies in, the narrowest first.

    Great Britain and Northern Ireland are two areas; a state of the United States lies in "US" and
    a country of the European Union in "EU".
    """
    if place.country == "GB":
        return ("NI",) if place.subdivision == "NIR" else ("GB",)
    if place.country == "US":
        return (f"US-{place.subdivision}", "US") if place.subdivision else ("US",)
    if place.country in _EUROPEAN_UNION:
        return (place.country, "EU")
    return (place.country,)


def passage(origin: Place, destination: Place, rows: Sequence[BorderRow]) -> BorderRow:
    """Give the row that speaks for a parcel from one place to another.

    The narrowest row wins, first by where the parcel goes, then by where it comes from. Within one
    narrowest area a parcel passes unless a row of just that area says otherwise; a pair that no row
    knows is blocked, since nobody has looked it up.

    Parameters
    ----------
    origin, destination : where the parcel is posted and where it goes
    rows : the border table
    """
    from_areas, to_areas = areas(origin), areas(destination)
    # Two places in the United States whose states nobody gave may lie in two of them: the careful
    # reading is that they do.
    if from_areas[0] == to_areas[0] and from_areas != ("US",):
        own = _row(rows, from_areas[0], to_areas[0])
        return own or BorderRow(from_areas[0], to_areas[0], Passage.ALLOWED, "", "")
    for to_area in (*to_areas, ANYWHERE):
        for from_area in (*from_areas, ANYWHERE):
            row = _row(rows, from_area, to_area)
            if row:
                return row
    return BorderRow(from_areas[0], to_areas[0], Passage.BLOCKED, "", "")


def _row(rows: Sequence[BorderRow], origin: str, destination: str) -> BorderRow | None:
    return next((r for r in rows if (r.origin, r.destination) == (origin, destination)), None)
