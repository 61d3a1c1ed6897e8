"""What the pages of the weather show: for each place which source speaks, how old it is, what it lacks."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor
from exchange.actions.people.labels import household_names
from exchange.actions.weather.frost_notes import own_place, sunset_at
from exchange.actions.weather.outlooks import (
    Known,
    StationSays,
    disagreeing,
    known_of,
    outlook_of,
    season_at,
)
from exchange.domain.circle.place import Place
from exchange.domain.growing.season import Season
from exchange.domain.permissions import Permission, Subject, may
from exchange.domain.weather.climate import Climate, climate_at
from exchange.domain.weather.forecast import FROST_NOTE, Forecast, Night, Outlook
from exchange.domain.weather.frost import SafeDate, safe_date
from exchange.domain.weather.note import Doubt, Note
from exchange.records import FAULTS, FROST_NOTES, PLACES, Tx, weather_kept
from exchange.records.rows.weather import FrostNoteRow
from exchange.reference.stations import FARTHEST_KM

FAULTS_SHOWN_FOR = timedelta(days=1)
NIGHTS_SHOWN = 10
_SAID = (Note.NO_FORECAST, Note.NOTHING, Note.OLD)
SHARES = (0.5, 0.1, 0.02)
"""Shares of springs in which frost still comes on or after the days shown."""


@dataclass(frozen=True, slots=True)
class Behind:
    """Which forecast speaks for a place.

    Attributes
    ----------
    source : name of the service; empty where only climate, or nothing, is known
    issued_at, fetched_at : in the place's zone, None without a forecast
    age : from its issue to now
    expired : whether it is older than it should be
    lacks : what it lacks, in words
    attribution : how its service, and the station's source, ask to be credited
    """

    source: str
    issued_at: datetime | None
    fetched_at: datetime | None
    age: timedelta | None
    expired: bool
    lacks: tuple[str, ...]
    attribution: str


@dataclass(frozen=True, slots=True)
class PlaceWeather:
    """The weather at a place.

    Attributes
    ----------
    names : first names of its household
    tonight : day on which the coming night begins, in the place's zone
    climate : at the place; None beyond 100 km of every station
    own_climate : whether the climate is that of a daily file of the place
    """

    place: Place
    names: str
    behind: Behind
    outlook: Outlook
    tonight: date
    climate: Climate | None
    own_climate: bool

    def nights(self, count: int) -> tuple[Night, ...]:
        """Give the coming nights, from tonight on."""
        return tuple(one for one in self.outlook.nights if one.day >= self.tonight)[:count]

    @property
    def notes(self) -> tuple[str, ...]:
        """What else must be known of the nights; that the forecast is missing or old is said already."""
        return tuple(one for one in self.outlook.notes if one not in _SAID)

    def doubts(self) -> Mapping[Doubt, tuple[date, ...]]:
        """Give what is doubtful in the nights shown."""
        return self.outlook.doubts([night.day for night in self.nights(NIGHTS_SHOWN)])


@dataclass(frozen=True, slots=True)
class FrostDate:
    """The day from which frost comes in at most a share of springs; None where never so rare."""

    share: float
    safe: SafeDate | None


@dataclass(frozen=True, slots=True)
class PlacePage:
    """All the page of one place shows.

    Attributes
    ----------
    sunset : this evening's, in the place's zone
    notes : frost notes on nights not yet over
    season : when plants may go out there; None beyond reach of every station
    stations : two that disagree on it, or none
    observed : nights known there [nights]
    farthest_km : beyond it no station tells what is usual [km]
    """

    weather: PlaceWeather
    frost_dates: tuple[FrostDate, ...]
    season: Season | None
    stations: tuple[StationSays, ...]
    sunset: datetime | None
    notes: tuple[FrostNoteRow, ...]
    observed: int
    faults: tuple[str, ...]
    farthest_km: float = FARTHEST_KM


@dataclass(frozen=True, slots=True)
class WeatherPage:
    """The circle's weather.

    Attributes
    ----------
    mine : the reader's own places
    own : those open to the reader: their own, for the organiser all
    others : places of others, of which only first names, county and the coldest night are shown
    faults : what went wrong lately with the sources
    """

    mine: tuple[PlaceWeather, ...]
    own: tuple[PlaceWeather, ...]
    others: tuple[PlaceWeather, ...]
    faults: tuple[str, ...]


def weather_page(actor: Actor, now: datetime) -> WeatherPage:
    """Give the weather of the circle as the reader may see it."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        places = PLACES.all(tx, actor.circle_id)
        known = known_of(tx, actor.circle_id, places)
        names = household_names(tx, actor.circle_id)
        owned = weather_kept.climates(tx, actor.circle_id)
        faults = faults_lately(tx, actor, now)
    seen = [
        _weather(place, known[place.id], names.get(place.household_id, ""), now, place.id in owned)
        for place in places
    ]
    own = tuple(one for one in seen if _is_open(actor, one.place))
    return WeatherPage(
        mine=tuple(one for one in own if one.place.household_id == actor.household_id),
        own=own,
        others=tuple(one for one in seen if one not in own and one.names),
        faults=faults,
    )


def place_page(actor: Actor, place_id: int, now: datetime) -> PlacePage:
    """Give the weather of one place, for its household and for the organiser."""
    with actor.books.reading() as tx:
        place = own_place(tx, actor, place_id)
        known = known_of(tx, actor.circle_id, [place])[place_id]
        names = household_names(tx, actor.circle_id)
        climate = weather_kept.climates(tx, actor.circle_id).get(place_id)
        notes = FROST_NOTES.all(tx, actor.circle_id, place_id=place_id)
        observed = weather_kept.count_observed(tx, actor.circle_id, place_id)
        faults = faults_lately(tx, actor, now)
    own = climate is not None
    weather = _weather(place, known, names.get(place.household_id, ""), now, own)
    year = weather.tonight.year + (weather.tonight.month > 7)
    return PlacePage(
        weather=weather,
        frost_dates=tuple(
            FrostDate(share, safe_date(weather.climate, year, share))
            for share in SHARES
            if weather.climate is not None
        ),
        season=season_at(place, year, climate),
        stations=() if own else disagreeing(place, year),
        sunset=sunset_at(place, now),
        notes=tuple(one for one in notes if one.night >= weather.tonight - timedelta(days=1)),
        observed=observed,
        faults=faults,
    )


def faults_lately(tx: Tx, actor: Actor, now: datetime) -> tuple[str, ...]:
    """Give what went wrong with the sources in the last day, newest first, each once."""
    recent = [
        one.what for one in FAULTS.all(tx, actor.circle_id) if one.at > now - FAULTS_SHOWN_FOR
    ]
    return tuple(dict.fromkeys(recent[::-1]))


def _is_open(actor: Actor, place: Place) -> bool:
    return may(actor.person, Permission.KEEP_OWN, Subject(owner=place.household_id))


def _weather(place: Place, known: Known, names: str, now: datetime, own: bool) -> PlaceWeather:
    seen = outlook_of(place, known, now)
    spoken = known.forecast if seen.issued_at is not None else None
    height = known.forecast.grid_height_m if known.forecast else None
    return PlaceWeather(
        place=place,
        names=names,
        behind=_behind(place, seen, spoken, now),
        outlook=seen,
        tonight=now.astimezone(ZoneInfo(place.zone)).date(),
        climate=None if known.climate is None else climate_at(place, known.climate, height),
        own_climate=own,
    )


def _behind(place: Place, seen: Outlook, forecast: Forecast | None, now: datetime) -> Behind:
    zone = ZoneInfo(place.zone)
    if forecast is None and seen.issued_at is not None:
        heard = seen.issued_at.astimezone(zone)
        return Behind(FROST_NOTE, heard, heard, now - heard, False, (), seen.attribution)
    if forecast is None:
        return Behind("", None, None, None, False, (), seen.attribution)
    return Behind(
        source=forecast.source,
        issued_at=forecast.issued_at.astimezone(zone),
        fetched_at=forecast.fetched_at.astimezone(zone),
        age=now - forecast.issued_at,
        expired=forecast.is_old(now),
        lacks=forecast.lacks,
        attribution=seen.attribution,
    )
