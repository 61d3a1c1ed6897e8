"""Nights as they came: typed one by one by whoever read the thermometer."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.weather.frost_notes import own_place
from exchange.domain.circle.place import Place
from exchange.records import OBSERVATIONS, weather_kept
from exchange.reference.daily_file import BELIEVABLE_C
from exchange.words.kernel import dates

MOST_SHOWN = 40
OLDEST = timedelta(days=366)
"""Older nights come in a daily file (judgement)."""


class ObservationRefusedError(RefusedError):
    """The night cannot be kept like this."""


class AlreadyKnownError(ObservationRefusedError):
    """The night is known already, and differently."""


@dataclass(frozen=True, slots=True)
class NightSeen:
    """A night as it came.

    Attributes
    ----------
    day : on which it ended
    from_file : whether it is from a daily file
    """

    id: int
    day: date
    minimum_c: float
    from_file: bool


@dataclass(frozen=True, slots=True)
class NightsSeen:
    """The last nights known of a place, newest first, and how many there are in all [nights]."""

    place: Place
    nights: tuple[NightSeen, ...]
    all: int


def nights_seen(actor: Actor, place_id: int) -> NightsSeen:
    """Give the nights known of a place."""
    with actor.books.reading() as tx:
        place = own_place(tx, actor, place_id)
        rows = weather_kept.latest_observed(tx, actor.circle_id, place_id, MOST_SHOWN)
        count = weather_kept.count_observed(tx, actor.circle_id, place_id)
    return NightsSeen(place, tuple(NightSeen(*row) for row in rows), count)


def observe(actor: Actor, place_id: int, day: date, minimum_c: float, now: datetime) -> int:
    """Keep the minimum of the night that ended on a day.

    Raises
    ------
    ObservationRefusedError
        for a day to come or long gone, or a figure beyond belief
    AlreadyKnownError
        when the day is known already; the earlier figure must be removed first, never overwritten
    """
    with actor.books.writing() as tx:
        place = own_place(tx, actor, place_id)
        _check(place, day, minimum_c, now)
        if OBSERVATIONS.find(tx, actor.circle_id, place_id=place_id, day=day):
            raise AlreadyKnownError(
                f"The night to {dates.day(day)} is known already; take it away first.",
                "day",
            )
        row_id = OBSERVATIONS.add(
            tx, actor.circle_id, place_id=place_id, day=day, minimum_c=minimum_c
        )
        note(tx, actor, "typed in a night", _what(place, day, minimum_c), now)
    return row_id


def forget_night(actor: Actor, observation_id: int, now: datetime) -> int:
    """Take a night away; gives the place it was for."""
    with actor.books.writing() as tx:
        one = OBSERVATIONS.get(tx, actor.circle_id, observation_id)
        place = own_place(tx, actor, one.place_id)
        OBSERVATIONS.remove(tx, actor.circle_id, observation_id)
        note(tx, actor, "took a night away", _what(place, one.day, one.minimum_c), now)
    return place.id


def _check(place: Place, day: date, minimum_c: float, now: datetime) -> None:
    today = now.astimezone(ZoneInfo(place.zone)).date()
    if not today - OLDEST <= day <= today:
        raise ObservationRefusedError(
            f"Write a morning of the past year, such as {today}; older ones come in a file.",
            "day",
        )
    if not BELIEVABLE_C[0] <= minimum_c <= BELIEVABLE_C[1]:
        raise ObservationRefusedError(
            "Write the lowest temperature in °C, such as −1.5.", "minimum_c"
        )


def _what(place: Place, day: date, minimum_c: float) -> str:
    return f"{place.name}, {place.town}: {dates.degrees(minimum_c, 0.1)}, {dates.day(day)}"
