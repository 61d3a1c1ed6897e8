"""Frost notes: what a household heard about a night to come, and its own evening reading."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.weather.frost_tonight import PotsAtRisk, pots_at_risk
from exchange.actions.weather.outlooks import outlooks
from exchange.domain.circle.place import Place
from exchange.domain.permissions import Permission, Subject
from exchange.domain.weather.forecast import Night
from exchange.domain.weather.sun import sun_times
from exchange.domain.weather.sunset import Tonight, night_by_reading, tonight_elsewhere
from exchange.records import FROST_NOTES, PLACES, VARIETIES, Tx
from exchange.records.rows.weather import FrostNoteRow
from exchange.words.kernel import dates

COLDEST_C, MILDEST_C = -40.0, 20.0
FARTHEST = timedelta(days=14)
"""Nobody hears about a single night farther ahead than this (judgement)."""

READ_AFTER = timedelta(hours=2)
"""The rule reads the temperature two hours after sunset."""


class NoteRefusedError(RefusedError):
    """The note cannot be kept like this."""


class ReadingRefusedError(RefusedError):
    """An evening reading like this says nothing."""


@dataclass(frozen=True, slots=True)
class Evening:
    """What somebody reads two hours after sunset.

    Attributes
    ----------
    temperature_c, dew_point_c : [degrees C]; the dew point None when it is not known
    clear, still : whether the sky is clear and the air at rest
    """

    temperature_c: float
    dew_point_c: float | None
    clear: bool
    still: bool


@dataclass(frozen=True, slots=True)
class EveningAnswer:
    """What the reading means.

    Attributes
    ----------
    said : by the reading alone
    night : by the forecast or as usual, None where neither is known
    pots : those that stand too cold by the one or the other
    sunset : in the place's zone
    """

    place: Place
    said: Tonight
    night: Night | None
    pots: tuple[PotsAtRisk, ...]
    sunset: datetime


@dataclass(frozen=True, slots=True)
class NotePage:
    """Where a frost is noted.

    Attributes
    ----------
    tonight : day on which the coming night begins, in the place's zone
    heard : what is noted already [night -> degrees C]
    version : of all that is noted
    """

    place: Place
    tonight: date
    heard: Mapping[date, float]
    version: str


@dataclass(frozen=True, slots=True)
class EveningPage:
    """Where an evening's reading is typed in; the sunset is in the place's zone."""

    place: Place
    sunset: datetime | None


def note_page(actor: Actor, place_id: int, now: datetime) -> NotePage:
    """Give what the form of a frost note is shown with."""
    with actor.books.reading() as tx:
        place = own_place(tx, actor, place_id)
        notes = FROST_NOTES.all(tx, actor.circle_id, place_id=place_id)
    return NotePage(
        place,
        now.astimezone(ZoneInfo(place.zone)).date(),
        {one.night: one.minimum_c for one in notes},
        _version(notes),
    )


def evening_page(actor: Actor, place_id: int, now: datetime) -> EveningPage:
    """Give what the form of an evening's reading is shown with."""
    with actor.books.reading() as tx:
        place = own_place(tx, actor, place_id)
    return EveningPage(place, sunset_at(place, now))


def note_frost(
    actor: Actor,
    place_id: int,
    night: date,
    minimum_c: float,
    now: datetime,
    opened: str | None = None,
) -> int:
    """Keep what the household heard of a night; for one night the later note counts.

    Parameters
    ----------
    opened : the version the form was opened with

    Raises
    ------
    NoteRefusedError
        When it speaks of another time, or of no temperature of a night.
    EditedMeanwhileError
        When the same night was noted after the form was opened.
    """
    with actor.books.writing() as tx:
        place = own_place(tx, actor, place_id)
        _check(place, night, minimum_c, now)
        notes = FROST_NOTES.all(tx, actor.circle_id, place_id=place_id)
        if opened is not None and _of_night(opened, night) != _of_night(_version(notes), night):
            raise EditedMeanwhileError(_version(notes))
        for one in FROST_NOTES.all(tx, actor.circle_id, place_id=place_id, night=night):
            FROST_NOTES.remove(tx, actor.circle_id, one.id)
        note_id = FROST_NOTES.add(
            tx,
            actor.circle_id,
            place_id=place_id,
            night=night,
            minimum_c=minimum_c,
            heard_at=now,
        )
        note(tx, actor, "noted a frost", _what(place, night, minimum_c), now)
    return note_id


def remove_note(actor: Actor, note_id: int, now: datetime) -> int:
    """Take a frost note away; gives the place it was for."""
    with actor.books.writing() as tx:
        one = FROST_NOTES.get(tx, actor.circle_id, note_id)
        place = own_place(tx, actor, one.place_id)
        FROST_NOTES.remove(tx, actor.circle_id, note_id)
        note(tx, actor, "took a frost note away", _what(place, one.night, one.minimum_c), now)
    return place.id


def frost_tonight_at(actor: Actor, place_id: int, evening: Evening, now: datetime) -> EveningAnswer:
    """Say what a reading two hours after sunset means for the night at a place.

    Raises
    ------
    ReadingRefusedError
        where the sun does not set, or the dew point lies above the temperature
    """
    if evening.dew_point_c is not None and evening.dew_point_c > evening.temperature_c:
        raise ReadingRefusedError("The dew point is never above the temperature.", "dew_point_c")
    with actor.books.reading() as tx:
        place = own_place(tx, actor, place_id)
        sunset = sunset_at(place, now)
        if sunset is None:
            raise ReadingRefusedError("The sun does not set there tonight.")
        said = tonight_elsewhere(
            evening.temperature_c, evening.dew_point_c, clear=evening.clear, still=evening.still
        )
        today = sunset.date()
        told = outlooks(tx, actor.circle_id, now, {place_id})[place_id].night(today)
        nights = [
            night
            for night in (told, night_by_reading(said, today, evening.temperature_c))
            if night is not None
        ]
        varieties = VARIETIES.by_id(tx, actor.circle_id)
        pots = pots_at_risk(tx, actor.circle_id, place, nights, varieties) if nights else ()
    return EveningAnswer(place, said, told, pots, sunset)


def sunset_at(place: Place, now: datetime) -> datetime | None:
    """Give this evening's sunset in the place's zone; None where the sun does not set."""
    zone = ZoneInfo(place.zone)
    times = sun_times(place.latitude, place.longitude, now.astimezone(zone).date())
    return times[1].astimezone(zone).replace(second=0, microsecond=0) if times else None


def own_place(tx: Tx, actor: Actor, place_id: int) -> Place:
    """Give a place the actor may look after: one's own, for the organiser any."""
    place = PLACES.get(tx, actor.circle_id, place_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=place.household_id))
    return place


def _check(place: Place, night: date, minimum_c: float, now: datetime) -> None:
    today = now.astimezone(ZoneInfo(place.zone)).date()
    if not today - timedelta(days=1) <= night <= today + FARTHEST:
        raise NoteRefusedError(
            f"Write a night from today to {dates.day(today + FARTHEST)}.",
            "night",
        )
    if not COLDEST_C <= minimum_c <= MILDEST_C:
        raise NoteRefusedError("Write the lowest temperature in °C, such as −3.", "minimum_c")


def _version(notes: Iterable[FrostNoteRow]) -> str:
    """Give all that is noted in one line, so that a note of another night causes no conflict."""
    return ";".join(sorted(f"{one.night}={one.minimum_c}" for one in notes))


def _of_night(version: str, night: date) -> list[str]:
    return [one for one in version.split(";") if one.startswith(f"{night}=")]


def _what(place: Place, night: date, minimum_c: float) -> str:
    return f"{place.name}, {place.town}: {dates.degrees(minimum_c, 0.5)}, {dates.day(night)}"
