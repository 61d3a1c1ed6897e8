"""What the page of parcels shows: a household's own, for the organiser all, and the weather behind."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.posting.diary import arrival_window, first_names
from exchange.domain.arriving.arrival import JourneyReport, JourneyState, journey
from exchange.domain.permissions import Permission, may
from exchange.domain.posting.parcel import ENDED, ParcelState
from exchange.records import (
    FAULTS,
    PARCEL_LINES,
    PLACES,
    TASKS,
    WAYS,
    Tx,
    forecasts_kept,
    parcel_heads,
)
from exchange.records.rows.posting import ParcelRow
from exchange.records.rows.running import UNDER_WAY, TaskRow

WITHOUT_DAY = (JourneyState.NO_WAY, JourneyState.WAITS, JourneyState.NOT_READY)
FAULTS_SHOWN_FOR = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class ParcelLine:
    """One parcel in a list.

    Attributes
    ----------
    sender, receiver : first names
    plants : plants in it [plants]
    way : name of its way, or empty
    """

    entry: ParcelRow
    sender: str
    receiver: str
    plants: int
    way: str
    journey: JourneyState


@dataclass(frozen=True, slots=True)
class WeatherBehind:
    """Which weather the days were weighed by.

    Attributes
    ----------
    source : name of the service, empty without a forecast
    issued_at, fetched_at : of the oldest forecast in use, in the circle's zone
    expired : whether it is older than it should be
    places, known : places of the circle, and those a forecast is kept for
    faults : what went wrong lately
    """

    source: str
    attribution: str
    issued_at: datetime | None
    fetched_at: datetime | None
    expired: bool
    places: int
    known: int
    lacks: tuple[str, ...]
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ParcelsPage:
    """The reader's parcels.

    Attributes
    ----------
    others : for the organiser every other parcel of the circle
    task : a new weighing under way, or None; for the organiser
    may_plan : whether the reader may have the days weighed again
    """

    to_post: tuple[ParcelLine, ...]
    to_come: tuple[ParcelLine, ...]
    others: tuple[ParcelLine, ...]
    weather: WeatherBehind
    task: TaskRow | None
    may_plan: bool
    today: date

    @property
    def without_day(self) -> bool:
        """Whether a parcel of those to post has no day yet."""
        return any(one.journey in WITHOUT_DAY for one in (*self.to_post, *self.others))


def parcels_page(actor: Actor, now: datetime) -> ParcelsPage:
    """Show what the household posts and what comes to it; to the organiser all parcels."""
    actor.must(Permission.SEE_CIRCLE)
    household_id = actor.own_household()
    all_of_them = may(actor.person, Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        today = today_in(circle_of(actor, tx), now)
        lines = parcel_lines(tx, actor.circle_id, parcel_heads.heads(tx, actor.circle_id), today)
        to_post = [
            one
            for one in lines
            if household_id in (one.entry.sender_household_id, one.entry.poster_household_id)
        ]
        to_come = [one for one in lines if one.entry.receiver_household_id == household_id]
        own = {one.entry.id for one in (*to_post, *to_come)}
        others = [one for one in lines if one.entry.id not in own] if all_of_them else []
        tasks = TASKS.all(
            tx,
            actor.circle_id,
            kind={"plan", "forecasts"},
            state=UNDER_WAY,
        )
        return ParcelsPage(
            tuple(to_post),
            tuple(to_come),
            tuple(others),
            weather_behind(tx, actor, now),
            tasks[-1] if tasks and all_of_them else None,
            all_of_them,
            today,
        )


def parcel_lines(
    tx: Tx, circle_id: int, entries: Iterable[ParcelRow], today: date
) -> tuple[ParcelLine, ...]:
    """Give parcels as lists show them: what is next first, what is over last."""
    names = first_names(tx, circle_id)
    ways = {one.id: one.name for one in WAYS.all(tx, circle_id)}
    plants = Counter[int]()
    for row in PARCEL_LINES.all(tx, circle_id):
        plants[row.parcel_id] += row.count
    lines = [
        ParcelLine(
            entry,
            names.get(entry.sender_household_id, ""),
            names.get(entry.receiver_household_id, ""),
            plants[entry.id],
            ways.get(entry.way_id or 0, ""),
            journey_of(entry, today),
        )
        for entry in entries
    ]
    return tuple(sorted(lines, key=_next_first))


def _next_first(line: ParcelLine) -> tuple[bool, date, str]:
    over = line.entry.state in ENDED
    return over, line.entry.posting_day or date.max, line.entry.code


def journey_of(entry: ParcelRow, today: date) -> JourneyState:
    """Say where a parcel stands."""
    return journey(heard_of(entry), today)


def heard_of(entry: ParcelRow) -> JourneyReport:
    """Give what was heard of a parcel."""
    return JourneyReport(
        entry.posting_day,
        arrival_window(entry),
        entry.posted_on,
        entry.arrived_on,
        entry.state is ParcelState.LOST,
        entry.answer,
        entry.is_announced,
        entry.state is ParcelState.RETURNED,
    )


def weather_behind(tx: Tx, actor: Actor, now: datetime) -> WeatherBehind:
    """Say which forecasts are in use, how old they are and what they lack."""
    zone = ZoneInfo(circle_of(actor, tx).zone)
    places = PLACES.all(tx, actor.circle_id)
    heads = list(forecasts_kept.latest_heads(tx, actor.circle_id).values())
    oldest = min(heads, key=lambda one: one.issued_at, default=None)
    faults = [
        one.what
        for one in FAULTS.all(tx, actor.circle_id)
        if one.at > now - FAULTS_SHOWN_FOR and (oldest is None or one.at > oldest.fetched_at)
    ]
    return WeatherBehind(
        oldest.source if oldest else "",
        oldest.attribution if oldest else "",
        oldest.issued_at.astimezone(zone) if oldest else None,
        oldest.fetched_at.astimezone(zone) if oldest else None,
        any(one.is_old(now) for one in heads),
        len(places),
        len(heads),
        tuple(sorted({lack for one in heads for lack in one.lacks})),
        tuple(dict.fromkeys(faults)),
    )
