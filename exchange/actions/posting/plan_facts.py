"""Joins records and packaged data into the facts a plan is made from."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import today_in
from exchange.actions.kernel.terms import posting_terms
from exchange.actions.posting.parcel_lines import Given, line_of
from exchange.actions.posting.route import route_outlooks
from exchange.actions.weather.outlooks import known_of, outlooks
from exchange.domain.circle.away import Away
from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.facts import Facts
from exchange.domain.growing.room import taken_by
from exchange.domain.growing.shelter import Shelter
from exchange.domain.posting.parcel import Line, Parcel, ParcelState
from exchange.domain.posting.rounds import probably_gone
from exchange.domain.posting.transit import Closures, came_on
from exchange.domain.posting.way import Carriage, Way
from exchange.domain.weather.climate import Climate, climate_at
from exchange.domain.weather.forecast import Knowledge
from exchange.records import (
    ALLOCATIONS,
    AWAY,
    BATCHES,
    CLAIMS,
    CLOSURES,
    HOUSEHOLDS,
    PARCEL_LINES,
    PARCELS,
    PLACES,
    ROUTE_POINTS,
    SHELTERS,
    SPARES,
    VARIETIES,
    WAYS,
    Tx,
    circles,
    weather_kept,
)
from exchange.records.rows.circle import ClosureRow
from exchange.records.rows.posting import ParcelRow, WayRow
from exchange.reference.borders import border_rows
from exchange.reference.holidays import closures_of

LOOK_AHEAD = timedelta(days=70)


def facts_of(tx: Tx, circle_id: int, now: datetime) -> Facts:
    """Give everything the plan of a circle needs, as plain values."""
    circle = circles.get(tx, circle_id)
    places = PLACES.by_id(tx, circle_id)
    today = today_in(circle, now)
    return Facts(
        households=households(tx, circle_id),
        places=places,
        shelters=shelters(tx, circle_id),
        away=away(tx, circle_id),
        varieties=VARIETIES.by_id(tx, circle_id),
        ways=ways(tx, circle_id),
        closures=closures(tx, circle_id, places, today),
        borders=border_rows(),
        outlooks={**outlooks(tx, circle_id, now), **route_outlooks(tx, circle_id, now)},
        usual=_usual(tx, circle_id, places),
        room_taken=_room_taken(tx, circle_id, today),
        answers=_answers(tx, circle_id),
        terms=posting_terms(circle),
        parcels=parcels(tx, circle_id, now),
        own_climates=weather_kept.climates(tx, circle_id),
    )


def households(tx: Tx, circle_id: int) -> dict[int, Household]:
    """Give the households of a circle by id."""
    return {
        one.id: Household(
            one.id,
            one.name,
            one.posting_weekdays,
            one.parcels_a_day,
            one.joined_on,
            one.left_on is not None,
        )
        for one in HOUSEHOLDS.all(tx, circle_id)
    }


def shelters(tx: Tx, circle_id: int) -> tuple[Shelter, ...]:
    """Give the shelters of a circle."""
    return tuple(
        Shelter(one.place_id, one.kind, one.room_pots, one.carried_in)
        for one in SHELTERS.all(tx, circle_id)
    )


def away(tx: Tx, circle_id: int) -> tuple[Away, ...]:
    """Give the days away in a circle."""
    return tuple(
        Away(one.household_id, one.first, one.last, one.cannot_receive, one.cannot_post)
        for one in AWAY.all(tx, circle_id)
    )


def ways(tx: Tx, circle_id: int) -> dict[int, Way]:
    """Give the ways of sending the circle uses, by id."""
    through = {one.way_id: one.number for one in ROUTE_POINTS.all(tx, circle_id)}
    return {one.id: _way(one, through.get(one.id)) for one in WAYS.all(tx, circle_id, used=True)}


def _way(one: WayRow, through: int | None) -> Way:
    hours = int(one.cut_off_hour)
    return Way(
        id=one.id,
        name=one.name,
        country=one.country,
        carriage=Carriage(one.carriage),
        odds=one.odds,
        hand_over_weekdays=one.hand_over_weekdays,
        delivery_weekdays=one.delivery_weekdays,
        cut_off=time(hours, round((one.cut_off_hour - hours) * 60)),
        postage=one.postage,
        depot_offset_c=one.depot_offset_c,
        quick=one.quick,
        source=one.source,
        via_place_id=through,
    )


def closures(
    tx: Tx, circle_id: int, places: Mapping[int, Place], today: date
) -> dict[tuple[str, str], Closures]:
    """Give the days without post of every area the circle lives in: holidays and what was typed in."""
    areas = sorted({(place.country, place.subdivision) for place in places.values()})
    typed = CLOSURES.all(tx, circle_id)
    span = (today, today + LOOK_AHEAD)
    return {area: _closed(typed, area, span) for area in areas}


def _closed(
    typed: Iterable[ClosureRow], area: tuple[str, str], span: tuple[date, date]
) -> dict[date, str]:
    """Give the days without post of one area within the span, with their names."""
    country, subdivision = area
    days = dict(closures_of(country, subdivision, *span))
    for one in typed:
        if one.country == country and one.subdivision in ("", subdivision):
            if one.opened:
                days.pop(one.day, None)
            else:
                days[one.day] = one.label
    return days


def parcels(tx: Tx, circle_id: int, now: datetime) -> tuple[Parcel, ...]:
    """Give the season's parcels with what is in them; those that have probably gone count as gone."""
    lines: dict[int, list[Line]] = {}
    for parcel_id, line in lines_by_parcel(tx, circle_id):
        lines.setdefault(parcel_id, []).append(line)
    places, known = PLACES.by_id(tx, circle_id), ways(tx, circle_id)
    found = []
    for entry in PARCELS.all(tx, circle_id):
        way = known.get(entry.announced_way_id or 0)
        here = now.astimezone(ZoneInfo(places[entry.sender_place_id].zone))
        parcel = parcel_value(entry, tuple(lines.get(entry.id, ())))
        found.append(probably_gone(parcel, here, way.cut_off if way else time.max))
    return tuple(found)


def parcel_value(entry: ParcelRow, lines: tuple[Line, ...]) -> Parcel:
    """Give a recorded parcel as the plan knows it."""
    return Parcel(
        entry.id,
        entry.code,
        entry.sender_household_id,
        entry.sender_place_id,
        entry.receiver_household_id,
        entry.receiver_place_id,
        lines,
        entry.state,
        entry.announced_day,
        entry.announced_way_id,
        entry.chosen_way_id,
        entry.posted_on,
        entry.waiting_since,
        entry.announced_loss,
        entry.day_chosen_by is not None,
        _known(entry),
        entry.poster_household_id,
    )


def _known(entry: ParcelRow) -> Knowledge | None:
    if entry.nights_missing is None:
        return None
    return Knowledge(entry.nights_missing, entry.weather_issued_at)


def lines_by_parcel(tx: Tx, circle_id: int) -> list[tuple[int, Line]]:
    """Give the lines of all parcels with the parcel they lie in."""
    allocations = ALLOCATIONS.by_id(tx, circle_id)
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    varieties = VARIETIES.by_id(tx, circle_id)
    found = []
    for row in PARCEL_LINES.all(tx, circle_id):
        allocation = allocations[row.allocation_id]
        spare, claim = spares[allocation.spare_id], claims[allocation.claim_id]
        given = Given(allocation.id, spare, claim, varieties[spare.variety_id])
        found.append((row.parcel_id, line_of(given, row.count)))
    return found


def _usual(tx: Tx, circle_id: int, places: Mapping[int, Place]) -> dict[int, Climate]:
    """Give what is usual at each place itself; places beyond reach of every station are left out."""
    known = known_of(tx, circle_id, tuple(places.values()))
    return {
        key: climate_at(place, climate)
        for key, place in places.items()
        if (climate := known[key].climate) is not None
    }


def _room_taken(tx: Tx, circle_id: int, today: date) -> dict[int, dict[date, int]]:
    """Count the pots standing under cover at each place from today on."""
    taken: dict[int, int] = {}
    for (place_id, _kind), pots in taken_by(BATCHES.all(tx, circle_id)).items():
        taken[place_id] = taken.get(place_id, 0) + pots
    start = today - LOOK_AHEAD
    return {place_id: {start: pots} for place_id, pots in taken.items()}


def _answers(tx: Tx, circle_id: int) -> dict[int, tuple[int, ...]]:
    """Count on which delivery day the circle's own parcels came, by way."""
    known_ways = {one.id: _way(one, None) for one in WAYS.all(tx, circle_id)}
    places, typed = PLACES.by_id(tx, circle_id), CLOSURES.all(tx, circle_id)
    counts: dict[int, list[int]] = {}
    for entry in PARCELS.all(tx, circle_id, state=ParcelState.ARRIVED):
        way = known_ways.get(entry.way_id or 0)
        posted, arrived = entry.posted_on, entry.arrived_on
        if way is None or not posted or not arrived or way.carriage is Carriage.BY_HAND:
            continue
        place = places[entry.receiver_place_id]
        closed = _closed(typed, (place.country, place.subdivision), (posted, arrived))
        number = came_on(posted, arrived, way, closed)
        if number < len(way.odds):
            row = counts.setdefault(way.id, [0] * len(way.odds))
            row[number] += 1
    return {way_id: tuple(row) for way_id, row in counts.items()}
