"""Why a parcel goes, waits or stays: values that exchange/words/posting/posting_days.py turns into sentences."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class DayWord(StrEnum):
    """The first word of a day in the posting strip."""

    POST = "post"
    GOOD = "good"
    RISKY = "risky"
    FROST_HERE = "frost here"
    FROST_THERE = "frost there"
    COLD_HERE = "cold here"
    COLD_THERE = "cold there"
    COLDER_HERE = "colder here"
    COLDER_THERE = "colder there"
    COLD_DEPOT = "cold depot"
    HEAT = "heat"
    MAY_WAIT = "may wait"
    UNKNOWN = "weather unknown"
    NO_POST = "no post"
    HOLIDAY = "holiday"
    CLOSED = "closed season"
    OWN_DAYS = "own days"
    AWAY_HERE = "away here"
    AWAY = "away"
    ROOM_FULL = "room full"
    DAY_FULL = "day full"
    ONE_A_DAY = "one a day"
    NOT_READY = "not ready"
    TOO_LATE = "too late"
    BORDER = "border"
    PAST = "past"


WEATHER_WORDS = frozenset(
    {
        DayWord.RISKY,
        DayWord.FROST_HERE,
        DayWord.FROST_THERE,
        DayWord.COLD_HERE,
        DayWord.COLD_THERE,
        DayWord.COLDER_HERE,
        DayWord.COLDER_THERE,
        DayWord.COLD_DEPOT,
        DayWord.HEAT,
        DayWord.UNKNOWN,
    }
)
"""Stops that waiting may cure."""

WEIGHED_WORDS = (WEATHER_WORDS | {DayWord.GOOD, DayWord.POST}) - {DayWord.UNKNOWN}
"""Words of days that have a chance of loss."""


class DayNote(StrEnum):
    """Why the posting day stands although another day looks as good or better."""

    NONE = ""
    WAITING_COSTS_MORE = "waiting costs more"
    BEST = "best: waiting costs more"
    TOLD = "told already"
    BY_PERSON = "chosen by hand"


class Topic(StrEnum):
    """What a reason that is not one day's stop speaks of."""

    CHOSEN = "chosen"
    ABOUT = "about"
    STANDS = "stands"
    LESS_KNOWN = "less known"
    WARMER_PACKING = "warmer packing"
    CLIMATE_ONLY = "climate only"
    LATER_NIGHTS_CLIMATE = "later nights climate"
    READY_LATER = "ready later"
    NO_GOOD_DAY = "no good day"
    WARM_FROM = "warm from"
    LEAST_RISKY = "least risky"
    LONG_WAIT = "long wait"
    NO_WAY = "no way"
    CROWDED = "crowded"
    WOULD_FREE = "would free"
    NOTED_BORDER = "noted border"
    NO_SHELTER_GIVEN = "no shelter given"
    NO_ROOM_GIVEN = "no room given"


@dataclass(frozen=True, slots=True)
class Stop:
    """What keeps a parcel from going by one way on one day.

    Attributes
    ----------
    label : name of the holiday, authority or way, where the word needs one
    number : the chance, temperature or count behind it
    until : the day at which it ends, where one is known
    """

    word: DayWord
    label: str = ""
    number: float | None = None
    until: date | None = None


@dataclass(frozen=True, slots=True)
class PostingReason:
    """One reason for an answer.

    Attributes
    ----------
    about : what it speaks of: one day's stop, or one of `Topic`
    first, last : the days it holds for, both counted
    number : the figure behind it; of a spell of days the lowest
    highest : the highest of a spell of days, None where there is but one figure
    label : a name the sentence needs (holiday, authority, packing, way)
    """

    about: Topic | DayWord
    first: date | None = None
    last: date | None = None
    number: float | None = None
    label: str = ""
    highest: float | None = None
