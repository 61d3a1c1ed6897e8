"""Borders between places: what is blocked, what is asked about, and which authority to ask.

The program never rules on law. A row states the usual caution and names the authority.
"""

from dataclasses import dataclass
from enum import StrEnum


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
    """

    origin: str
    destination: str
    passage: Passage
    caution: str
    authority: str
