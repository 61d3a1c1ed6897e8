"""A household's own daily file: looked over first, then kept as climate and as nights observed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.weather.frost_notes import own_place
from exchange.domain.circle.place import Place
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.daily import DayRead, TooShortError, climate_of_days
from exchange.records import DAILY_FILES, Tx, weather_kept
from exchange.records.columns import from_plain, to_plain
from exchange.records.rows.weather import DailyFileRow
from exchange.reference.daily_file import DailyFileError, LineFault, read_content

LARGEST_FILE = 2 * 1024 * 1024
"""The largest file accepted [bytes]."""

MOST_FAULTS_SHOWN = 20


class FileRefusedError(RefusedError):
    """The file cannot be used.

    Attributes
    ----------
    faults : lines that cannot be read, the first of them
    """

    def __init__(self, sentence: str, faults: tuple[LineFault, ...] = ()) -> None:
        super().__init__(sentence, "file")
        self.faults = faults


class FileGoneError(RefusedError):
    """The file was kept or dropped already."""


@dataclass(frozen=True, slots=True)
class FileSeen:
    """A daily file looked over, or kept.

    Attributes
    ----------
    climate : what it says is usual, None where it has too few years
    first, last, days : what it spans [days]
    new : days not known yet; kept with the file
    same : days known already with the same figure
    differing : days known already with another figure, which stays
    """

    id: int
    place: Place
    name: str
    climate: Climate | None
    first: date
    last: date
    days: int
    new: int
    same: int
    differing: tuple[date, ...]
    kept_at: datetime | None


@dataclass(frozen=True, slots=True)
class FilesKept:
    """The files kept for a place, oldest first; the last with enough years gives the climate."""

    place: Place
    files: tuple[FileSeen, ...]


def look_over(actor: Actor, place_id: int, name: str, content: bytes, now: datetime) -> int:
    """Read a daily file and set it by, to be looked over before it is kept; gives its id.

    An older file that was only looked over is dropped.

    Raises
    ------
    FileRefusedError
        when it cannot be read whole; the lines are named
    """
    days = _read(name[:80], content)
    try:
        climate: Climate | None = climate_of_days(days, name[:80])
    except TooShortError:
        climate = None
    with actor.books.writing() as tx:
        place = own_place(tx, actor, place_id)
        _not_ahead(place, days, now)
        for old in DAILY_FILES.all(tx, actor.circle_id, place_id=place_id, kept_at=None):
            DAILY_FILES.remove(tx, actor.circle_id, old.id)
        return DAILY_FILES.add(
            tx,
            actor.circle_id,
            place_id=place_id,
            name=name[:80],
            days=[[one.day.isoformat(), one.minimum_c, one.maximum_c] for one in days],
            climate=to_plain(climate) if climate else None,
            read_at=now,
        )


def file_seen(actor: Actor, file_id: int) -> FileSeen:
    """Give a file with what keeping it brings."""
    with actor.books.reading() as tx:
        one = DAILY_FILES.get(tx, actor.circle_id, file_id)
        return _seen(tx, actor, own_place(tx, actor, one.place_id), one)


def files_of(actor: Actor, place_id: int) -> FilesKept:
    """Give the files kept for a place."""
    with actor.books.reading() as tx:
        place = own_place(tx, actor, place_id)
        rows = DAILY_FILES.all(tx, actor.circle_id, place_id=place_id)
        kept = tuple(_seen(tx, actor, place, one) for one in rows if one.kept_at is not None)
        return FilesKept(place, kept)


def keep_file(actor: Actor, file_id: int, now: datetime) -> FileSeen:
    """Keep a file that was looked over: its climate, and its nights that are not known yet."""
    with actor.books.writing() as tx:
        one = DAILY_FILES.get(tx, actor.circle_id, file_id)
        place = own_place(tx, actor, one.place_id)
        if one.kept_at is not None:
            raise FileGoneError("This file is kept already.")
        known = weather_kept.days_observed(tx, actor.circle_id, place.id)
        new = [day for day in _days(one.days) if day.day not in known]
        seen = _seen(tx, actor, place, one)
        weather_kept.add_observed(tx, actor.circle_id, place.id, new, file_id)
        DAILY_FILES.change(tx, actor.circle_id, file_id, kept_at=now)
        note(tx, actor, "kept a daily file", f"{place.name}, {place.town}: {one.name}", now)
    return seen


def drop_file(actor: Actor, file_id: int, now: datetime) -> int:
    """Take a file away with the nights it brought; gives the place it was for."""
    with actor.books.writing() as tx:
        one = DAILY_FILES.get(tx, actor.circle_id, file_id)
        place = own_place(tx, actor, one.place_id)
        DAILY_FILES.remove(tx, actor.circle_id, file_id)
        if one.kept_at is not None:
            what = f"{place.name}, {place.town}: {one.name}"
            note(tx, actor, "took a daily file away", what, now)
    return place.id


def _read(name: str, content: bytes) -> tuple[DayRead, ...]:
    if len(content) > LARGEST_FILE:
        raise FileRefusedError(f"The file is larger than {LARGEST_FILE // 1024**2} MB.")
    try:
        read = read_content(content, name)
    except DailyFileError as error:
        raise FileRefusedError(str(error)) from error
    if read.faults:
        raise FileRefusedError(
            f"{len(read.faults)} lines of {name} cannot be read; nothing is kept until they are put right.",
            read.faults[:MOST_FAULTS_SHOWN],
        )
    if not read.days:
        raise FileRefusedError(f"No line of {name} has a minimum.")
    return tuple(sorted(read.days, key=lambda one: one.day))


def _not_ahead(place: Place, days: Sequence[DayRead], now: datetime) -> None:
    today = now.astimezone(ZoneInfo(place.zone)).date()
    if days[-1].day > today:
        raise FileRefusedError(f"The file speaks of {days[-1].day}, which is still to come.")


def _days(plain: Sequence[Any]) -> tuple[DayRead, ...]:
    return tuple(DayRead(date.fromisoformat(day), low, high) for day, low, high in plain)


def _seen(tx: Tx, actor: Actor, place: Place, one: DailyFileRow) -> FileSeen:
    days = _days(one.days)
    known = weather_kept.days_observed(tx, actor.circle_id, place.id)
    there = [day for day in days if day.day in known]
    differing = tuple(day.day for day in there if known[day.day] != day.minimum_c)
    return FileSeen(
        id=one.id,
        place=place,
        name=one.name,
        climate=from_plain(Climate, one.climate) if one.climate else None,
        first=days[0].day,
        last=days[-1].day,
        days=len(days),
        new=len(days) - len(there),
        same=len(there) - len(differing),
        differing=differing,
        kept_at=one.kept_at,
    )
