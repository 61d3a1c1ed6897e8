"""What became of the parcels of a season, counted by way, weekday, packing and week."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TypeVar

LONGEST_GAP = timedelta(weeks=3)
"""Weeks without parcels are shown in a gap up to this long (judgement) [d]."""
A_WEEK = timedelta(weeks=1)

Key = TypeVar("Key")


@dataclass(frozen=True, slots=True)
class SentParcel:
    """A parcel that went, and what was heard of it.

    Attributes
    ----------
    day : on which it was posted or handed over; where nobody said so, the day it was to go
    way : name of the way it went, empty where not known
    packing : key of the packing advised
    plants : sent [plants]
    alive : of these alive on arrival [plants], None while nothing was heard
    """

    day: date
    way: str
    packing: str
    plants: int
    alive: int | None
    by_hand: bool = False


@dataclass(frozen=True, slots=True)
class Tally:
    """Parcels counted together.

    Attributes
    ----------
    parcels, heard : how many went, and of how many it was heard how they came [parcels]
    plants, alive : in those heard of [plants]
    """

    parcels: int = 0
    heard: int = 0
    plants: int = 0
    alive: int = 0

    @property
    def lost(self) -> int:
        """Plants heard of that did not come alive [plants]."""
        return self.plants - self.alive

    def with_one(self, one: SentParcel) -> "Tally":
        """Count one parcel more; one nothing was heard of adds no plants."""
        if one.alive is None:
            return Tally(self.parcels + 1, self.heard, self.plants, self.alive)
        return Tally(
            self.parcels + 1, self.heard + 1, self.plants + one.plants, self.alive + one.alive
        )


def tally(sent: Iterable[SentParcel]) -> Tally:
    """Count parcels together."""
    whole = Tally()
    for one in sent:
        whole = whole.with_one(one)
    return whole


def tally_by(sent: Iterable[SentParcel], key: Callable[[SentParcel], Key]) -> dict[Key, Tally]:
    """Count parcels by what they have in common, in the order in which each first occurs."""
    found: dict[Key, Tally] = {}
    for one in sent:
        found[key(one)] = found.get(key(one), Tally()).with_one(one)
    return found


def by_week(sent: Iterable[SentParcel]) -> tuple[tuple[date, Tally], ...]:
    """Count parcels by the Monday of the week they went in; short gaps have weeks of their own."""
    found = tally_by(sent, lambda one: one.day - timedelta(days=one.day.weekday()))
    weeks: list[tuple[date, Tally]] = []
    for monday in sorted(found):
        last = weeks[-1][0] if weeks else monday
        while LONGEST_GAP >= monday - last > A_WEEK:
            last += A_WEEK
            weeks.append((last, Tally()))
        weeks.append((monday, found[monday]))
    return tuple(weeks)
