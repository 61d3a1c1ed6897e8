"""The circle's year: from the first of October, when the last cuttings have gone, to the end of September."""

from dataclasses import dataclass
from datetime import date, timedelta

SEASON_BEGINS = (10, 1)
"""The day a season begins (judgement): after late-summer cuttings, before the autumn form [month, day]."""


@dataclass(frozen=True, slots=True, order=True)
class CircleSeason:
    """One season.

    Attributes
    ----------
    year : in which it begins
    """

    year: int

    @property
    def first(self) -> date:
        """Its first day."""
        return date(self.year, *SEASON_BEGINS)

    @property
    def last(self) -> date:
        """Its last day."""
        return self.next.first - timedelta(days=1)

    @property
    def next(self) -> "CircleSeason":
        """The one after it."""
        return CircleSeason(self.year + 1)

    @property
    def before(self) -> "CircleSeason":
        """The one before it."""
        return CircleSeason(self.year - 1)

    def holds(self, day: date) -> bool:
        """Say whether a day lies in it."""
        return self.first <= day <= self.last


def season_of(day: date) -> CircleSeason:
    """Give the season a day lies in."""
    return CircleSeason(day.year if (day.month, day.day) >= SEASON_BEGINS else day.year - 1)


def a_year_later(day: date) -> date:
    """Give the day of the next year that people mean by the same: the second Sunday of April, the last of August.

    Returns
    -------
    the same weekday of the same month, counted from its beginning; from its end where no such day
    of the month came after, or the next year has none
    """
    last = (day + timedelta(days=7)).month != day.month
    first = date(day.year + 1, day.month, 1)
    found = first + timedelta(days=(day.weekday() - first.weekday()) % 7)
    weeks = (day.day - 1) // 7
    while (found + timedelta(days=7)).month == day.month and (last or weeks):
        found += timedelta(days=7)
        weeks -= 1
    return found
