"""The diary: rewritten after every plan, so that calendars only read what is recorded."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import TypedDict

from exchange.actions.people.labels import household_names
from exchange.actions.weather.outlooks import season_at
from exchange.calendars.entry import CalendarEntry, Written, kept, written
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.care import Receiving, care_steps
from exchange.domain.arriving.step import CareStep
from exchange.domain.diary import EntryKind, ParcelDates, dispatch_diary, household_diary
from exchange.domain.facts import Facts
from exchange.domain.posting.parcel import NOT_COME, ParcelState
from exchange.domain.posting.way import Carriage
from exchange.domain.weather.forecast import Outlook, WeatherSource
from exchange.records import DIARY, PARCELS, Tx
from exchange.records.rows.posting import DiaryRow, ParcelRow


def rewrite_diary(tx: Tx, circle_id: int, facts: Facts, now: datetime) -> None:
    """Write every household's entries and the circle's dispatch entries as they now stand."""
    dates = parcel_dates(tx, circle_id, facts)
    rows = DIARY.all(tx, circle_id)
    for household_id in sorted(facts.households):
        new = (written(entry) for entry in household_diary(household_id, dates))
        own = [row for row in rows if row.household_id == household_id]
        _write(tx, circle_id, household_id, own, new, now)
    dispatch = (written(entry) for entry in dispatch_diary(dates))
    shared = [row for row in rows if row.household_id is None]
    _write(tx, circle_id, None, shared, dispatch, now)


def rewrite_parcel(tx: Tx, circle_id: int, facts: Facts, now: datetime) -> None:
    """Write the entries of the parcels in the facts as they now stand; no other entry is touched."""
    ids = {parcel.id for parcel in facts.parcels}
    dates = parcel_dates(tx, circle_id, facts)
    rows = DIARY.all(tx, circle_id, parcel_id=ids)
    ends = {one.sender_household_id for one in dates} | {one.receiver_household_id for one in dates}
    # Whoever posted it before somebody else took it over has dates to be taken back.
    ends |= {row.household_id for row in rows if row.household_id is not None}
    for household_id in sorted(ends):
        new = (written(entry) for entry in household_diary(household_id, dates))
        own = [row for row in rows if row.household_id == household_id]
        _write(tx, circle_id, household_id, own, new, now)
    dispatch = (written(entry) for entry in dispatch_diary(dates))
    shared = [row for row in rows if row.household_id is None]
    _write(tx, circle_id, None, shared, dispatch, now)


def parcel_dates(tx: Tx, circle_id: int, facts: Facts) -> tuple[ParcelDates, ...]:
    """Give what the diary needs of every parcel."""
    names = first_names(tx, circle_id)
    contents = {parcel.id: parcel for parcel in facts.parcels}
    found = []
    for entry in PARCELS.all(tx, circle_id, id=set(contents)):
        parcel = contents[entry.id]
        way = facts.ways.get(entry.way_id or 0)
        window = arrival_window(entry)
        found.append(
            ParcelDates(
                entry.id,
                entry.code,
                entry.posted_by,
                entry.receiver_household_id,
                names.get(entry.sender_household_id, ""),
                names.get(entry.receiver_household_id, ""),
                entry.posted_on or entry.posting_day,
                window,
                sum(line.count for line in parcel.lines),
                way is not None and way.carriage is Carriage.BY_HAND,
                entry.state is ParcelState.POSTED,
                entry.state is ParcelState.ARRIVED,
                care_for(facts, entry, window),
                entry.is_announced or entry.posting_day is None,
            )
        )
    return tuple(found)


def care_for(facts: Facts, entry: ParcelRow, window: ArrivalWindow | None) -> tuple[CareStep, ...]:
    """Give the steps of care for what is in a parcel, once days are known."""
    if window is None:
        return ()
    lines = next(one.lines for one in facts.parcels if one.id == entry.id)
    return care_steps(lines, window, receiving(facts, entry, window))


def receiving(facts: Facts, entry: ParcelRow, window: ArrivalWindow) -> Receiving:
    """Give what care needs of the place that receives a parcel."""
    place = facts.places[entry.receiver_place_id]
    nothing = Outlook(place.id, (), WeatherSource.NONE)
    return Receiving(
        facts.shelters_at(place.id),
        facts.outlooks.get(place.id, nothing),
        season_at(place, window.first.year, facts.own_climates.get(place.id)),
    )


def arrival_window(entry: ParcelRow) -> ArrivalWindow | None:
    """Give the days on which a parcel is expected, or the day it came; none where it never does."""
    if entry.state in NOT_COME:
        return None
    if entry.arrived_on is not None:
        return ArrivalWindow(entry.arrived_on, entry.arrived_on)
    if entry.arrival_from is None or entry.arrival_to is None:
        return None
    return ArrivalWindow(entry.arrival_from, entry.arrival_to)


def first_names(tx: Tx, circle_id: int) -> dict[int, str]:
    """Give "Maud and Colin" for every household [household id -> first names]."""
    return household_names(tx, circle_id)


def entry_of(row: DiaryRow) -> CalendarEntry:
    """Give a kept row as the calendars know it."""
    return CalendarEntry(
        Written(
            row.key,
            row.first_day,
            row.last_day,
            row.title,
            row.text,
            row.alarm_hours,
            row.tentative,
        ),
        row.content_changed_at,
        row.sequence,
        row.cancelled_on,
    )


def _write(
    tx: Tx,
    circle_id: int,
    household_id: int | None,
    rows: list[DiaryRow],
    new: Iterable[Written],
    now: datetime,
) -> None:
    before = {row.key: row for row in rows}
    after = {one.written.key: one for one in kept([entry_of(row) for row in rows], new, now)}
    for key, row in before.items():
        if key not in after:
            DIARY.remove(tx, circle_id, row.id)
    for key, one in after.items():
        columns = _columns(one)
        if key in before:
            # Most entries stay as they are, and a change reads its row first: skip these.
            if any(getattr(before[key], name) != value for name, value in columns.items()):
                DIARY.change(tx, circle_id, before[key].id, **columns)
        else:
            kind = EntryKind(key.split("-")[2])
            parcel_id = int(key.split("-")[1])
            DIARY.add(
                tx, circle_id, key=key, kind=kind, household_id=household_id,
                parcel_id=parcel_id, **columns,
            )  # fmt: skip


class _DiarySaid(TypedDict):
    """What an entry says."""

    first_day: date
    last_day: date
    title: str
    text: str
    alarm_hours: int | None
    tentative: bool
    sequence: int
    content_changed_at: datetime
    cancelled_on: date | None


def _columns(one: CalendarEntry) -> _DiarySaid:
    return {
        "first_day": one.written.first,
        "last_day": one.written.last,
        "title": one.written.summary,
        "text": one.written.description,
        "alarm_hours": one.written.alarm_hours,
        "tentative": one.written.tentative,
        "sequence": one.sequence,
        "content_changed_at": one.changed_at,
        "cancelled_on": one.cancelled_on,
    }
