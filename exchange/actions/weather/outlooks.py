"""What lies ahead of every place: its coming nights and its growing year, from what is kept and what is packaged."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.domain.circle.place import Place
from exchange.domain.growing.season import Season, season
from exchange.domain.weather.blend import PUBLISHED, Skill
from exchange.domain.weather.climate import Climate, climate_at
from exchange.domain.weather.forecast import Forecast, Outlook
from exchange.domain.weather.outlook import outlook, with_notes
from exchange.forecasts import frost_note
from exchange.forecasts.frost_note import FrostNote
from exchange.records import FROST_NOTES, PLACES, Tx, forecasts_kept, weather_kept
from exchange.records.rows.people import PlaceWhere
from exchange.reference.stations import climate_near, climates_within

NIGHTS_AHEAD = 40
"""Nights looked at: the posting strip of three weeks, the journey and the first nights after it."""
DISAGREE_DAYS = 10
"""Stations that give planting-out days further apart than this are both named (judgement) [days]."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the weather at one place.

    Attributes
    ----------
    climate : as its source has it, not yet at the place; None beyond reach of every station
    skill : how good forecasts are there
    notes : what the household heard of nights to come
    """

    forecast: Forecast | None
    climate: Climate | None
    skill: Skill
    notes: tuple[FrostNote, ...]


def outlooks(
    tx: Tx, circle_id: int, now: datetime, place_ids: Collection[int] | None = None
) -> dict[int, Outlook]:
    """Give the coming nights of every place of the circle, or of some [place id -> outlook]."""
    wanted: PlaceWhere = {} if place_ids is None else {"id": set(place_ids)}
    places = PLACES.all(tx, circle_id, **wanted)
    known = known_of(tx, circle_id, places)
    return {place.id: outlook_of(place, known[place.id], now) for place in places}


def known_of(tx: Tx, circle_id: int, places: Sequence[Place]) -> Mapping[int, Known]:
    """Give what is known of the weather at places [place id -> known]."""
    ids = {place.id for place in places}
    forecasts = forecasts_kept.latest(tx, circle_id, ids)
    climates = weather_kept.climates(tx, circle_id)
    skills = weather_kept.skills(tx, circle_id)
    notes: dict[int, list[FrostNote]] = {}
    for one in FROST_NOTES.all(tx, circle_id, place_id=ids):
        note = FrostNote(one.place_id, one.night, one.minimum_c, one.heard_at)
        notes.setdefault(one.place_id, []).append(note)
    return {
        place.id: Known(
            forecasts.get(place.id),
            climates.get(place.id) or climate_near(place.latitude, place.longitude),
            skills.get(place.id, PUBLISHED),
            tuple(notes.get(place.id, ())),
        )
        for place in places
    }


def outlook_of(place: Place, known: Known, now: datetime) -> Outlook:
    """Give the coming nights of a place; frost notes make them colder, never warmer."""
    span = (now.astimezone(ZoneInfo(place.zone)).date() - timedelta(days=1), NIGHTS_AHEAD)
    minima = {note.night: note.minimum_c for note in known.notes}
    seen = outlook(place, known.forecast, known.climate, span, now, known.skill)
    if not seen.nights and minima:
        heard = frost_note.fetch([place], now, notes=known.notes).forecasts
        alone = heard[0] if heard else None
        seen = outlook(place, alone, known.climate, _from(span, minima), now, known.skill)
    return with_notes(seen, minima)


def _from(span: tuple[date, int], minima: Mapping[date, float]) -> tuple[date, int]:
    """Give the span from the first noted night on, where only notes are known."""
    first = min((night for night in minima if night >= span[0]), default=span[0])
    return first, span[1]


@dataclass(frozen=True, slots=True)
class StationSays:
    """The planting-out day at a place by one station."""

    station: str
    planting_out: date


def season_at(place: Place, year: int, own: Climate | None = None) -> Season | None:
    """Give the dates of a growing year at a place, or None when nothing is known of them.

    Parameters
    ----------
    own : what the place's own daily file tells, which stands above the nearest station
    """
    climate = own or climate_near(place.latitude, place.longitude)
    if climate is None:
        return None
    return season(climate_at(place, climate), year, place.frost_rare_day)


def disagreeing(place: Place, year: int) -> tuple[StationSays, ...]:
    """Give the nearest station and the next within 100 km that disagrees with it; nothing where none does.

    The station is the larger error: leaving each of 29 stations out, the nearest other was wrong by 14 days (rms).
    """
    said = [
        StationSays(climate.name, day)
        for climate in climates_within(place.latitude, place.longitude)
        if (day := season(climate_at(place, climate), year).planting_out) is not None
    ]
    for other in said[1:]:
        if abs((other.planting_out - said[0].planting_out).days) > DISAGREE_DAYS:
            return said[0], other
    return ()
