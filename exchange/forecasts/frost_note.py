"""A member's own note of a frost to come, as a source of forecasts where nothing else is known.

"The wireless said minus three on Saturday night" is worth as much as a service where no service
answers and no station is near. Where nights are known, notes are laid over them instead.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import FROST_NOTE, Forecast, Reading
from exchange.domain.weather.nights import night_bounds
from exchange.domain.weather.traces import half_wave
from exchange.forecasts.base import Fetched

_EVENING_ABOVE_K = 8.0
_GOOD_FOR = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class FrostNote:
    """What a member heard of one night at one place.

    Attributes
    ----------
    night : the day on which the night begins
    minimum_c : lowest temperature to be expected [degrees C]
    heard_at : when, UTC
    """

    place_id: int
    night: date
    minimum_c: float
    heard_at: datetime


def fetch(places: Sequence[Place], now: datetime, *, notes: Iterable[FrostNote]) -> Fetched:
    """Give one forecast for each place with notes on nights not yet over; no faults.

    Where a night has two notes, the later counts.

    Parameters
    ----------
    places : where
    now : UTC
    notes : in any order
    """
    latest: dict[tuple[int, date], FrostNote] = {}
    for note in sorted(notes, key=lambda one: one.heard_at):
        latest[note.place_id, note.night] = note
    forecasts = []
    for place in places:
        own = [
            note
            for (place_id, night), note in sorted(latest.items())
            if place_id == place.id and night_bounds(night, place.zone)[1] > now
        ]
        if own:
            forecasts.append(_forecast(place, own))
    return Fetched(tuple(forecasts))


def _forecast(place: Place, notes: Sequence[FrostNote]) -> Forecast:
    heard = max(note.heard_at for note in notes)
    readings = [reading for note in notes for reading in _night(place, note)]
    return Forecast(
        place_id=place.id,
        source=FROST_NOTE,
        issued_at=heard,
        fetched_at=heard,
        expires_at=heard + _GOOD_FOR,
        attribution="",
        readings=tuple(readings),
    )


def _night(place: Place, note: FrostNote) -> list[Reading]:
    """Draw the night's hours from an evening eight degrees milder, down to the minimum and up."""
    start, end = night_bounds(note.night, place.zone)
    hours = round((end - start) / timedelta(hours=1))
    lowest_at = hours - 6
    evening = note.minimum_c + _EVENING_ABOVE_K
    return [
        Reading(
            start + timedelta(hours=hour),
            half_wave(evening, note.minimum_c, hour / lowest_at)
            if hour <= lowest_at
            else half_wave(note.minimum_c, evening, (hour - lowest_at) / 6.0),
        )
        for hour in range(hours)
    ]
