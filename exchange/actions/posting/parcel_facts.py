"""The facts around one parcel: enough for its page, its papers and its dates, not to plan from."""

from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.terms import posting_terms
from exchange.actions.posting.parcel_lines import Given, line_of
from exchange.actions.posting.plan_facts import households, parcel_value, ways
from exchange.actions.weather.outlooks import outlooks
from exchange.domain.facts import Facts
from exchange.domain.growing.shelter import Shelter
from exchange.domain.permissions import Subject
from exchange.domain.posting.parcel import NOT_COME, Line
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    MEMBERS,
    PARCEL_LINES,
    PLACES,
    SHELTERS,
    SPARES,
    VARIETIES,
    Tx,
    circles,
    weather_kept,
)
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel.phrase import listed


def subject_of(tx: Tx, actor: Actor, entry: ParcelRow, now: datetime) -> Subject:
    """Give a parcel as permission needs to know it; one that never came is over from the day that was said."""
    circle = circle_of(actor, tx)
    over: date | None = entry.arrived_on
    if entry.state in NOT_COME and entry.closed_at is not None:
        over = today_in(circle, entry.closed_at)
    return Subject(
        sender=entry.sender_household_id,
        receiver=entry.receiver_household_id,
        poster=entry.poster_household_id,
        asked=entry.asked_to_post_id,
        planned=bool(entry.plan),
        arrived_on=over,
        today=today_in(circle, now),
    )


def facts_around(tx: Tx, circle_id: int, entry: ParcelRow, now: datetime) -> Facts:
    """Give both ends of a parcel with their coming nights, and the parcel itself."""
    ends = {entry.sender_place_id, entry.receiver_place_id}
    lines = lines_of(tx, circle_id, entry.id)
    return Facts(
        households=households(tx, circle_id),
        places=PLACES.by_id(tx, circle_id, id=ends),
        shelters=tuple(
            Shelter(one.place_id, one.kind, one.room_pots, one.carried_in)
            for one in SHELTERS.all(tx, circle_id, place_id=ends)
        ),
        varieties=VARIETIES.by_id(tx, circle_id, id={one.variety_id for one in lines}),
        ways=ways(tx, circle_id),
        outlooks=outlooks(tx, circle_id, now, ends),
        terms=posting_terms(circles.get(tx, circle_id)),
        parcels=(parcel_value(entry, lines),),
        own_climates=weather_kept.climates(tx, circle_id),
    )


def lines_of(tx: Tx, circle_id: int, parcel_id: int) -> tuple[Line, ...]:
    """Give what is in a parcel."""
    rows = PARCEL_LINES.all(tx, circle_id, parcel_id=parcel_id)
    allocations = ALLOCATIONS.by_id(tx, circle_id, id={row.allocation_id for row in rows})
    spares = SPARES.by_id(tx, circle_id, id={one.spare_id for one in allocations.values()})
    claims = CLAIMS.by_id(tx, circle_id, id={one.claim_id for one in allocations.values()})
    varieties = VARIETIES.by_id(tx, circle_id, id={one.variety_id for one in spares.values()})
    found = []
    for row in rows:
        one = allocations[row.allocation_id]
        spare = spares[one.spare_id]
        given = Given(one.id, spare, claims[one.claim_id], varieties[spare.variety_id])
        found.append(line_of(given, row.count))
    return tuple(found)


def name_on_parcel(tx: Tx, circle_id: int, household_id: int) -> str:
    """Give the name for a label: "Dilys and Alan Skerrow", or each name in full."""
    members = MEMBERS.all(tx, circle_id, household_id=household_id, left_at=None)
    surnames = {one.surname for one in members}
    if len(surnames) == 1:
        return f"{listed([one.first_name for one in members])} {surnames.pop()}".strip()
    return listed([one.full_name for one in members])
