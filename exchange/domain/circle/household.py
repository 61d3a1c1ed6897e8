"""A household: people sharing a postal address. Fairness counts households."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Household:
    """A household of the circle.

    Attributes
    ----------
    name : how papers and tables name it, unique in its circle
    posting_weekdays : the weekdays on which it can post, 0 = Monday
    parcels_a_day : how many parcels it can pack on one posting day
    joined_on : the day it joined, from which a newcomer is known
    """

    id: int
    name: str
    posting_weekdays: frozenset[int] = frozenset(range(7))
    parcels_a_day: int = 3
    joined_on: date | None = None
    left: bool = False
