"""Everything one share-out needs, joined from the records and the packaged data."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime

from exchange.actions.kernel.actor import today_in
from exchange.actions.kernel.terms import sharing_terms
from exchange.actions.posting.came_alive import origin_of
from exchange.actions.posting.parcels import ENDED_THERE
from exchange.actions.posting.plan_facts import households, shelters, ways
from exchange.actions.sharing.share_out_proposal import forbids_of, pins_of
from exchange.actions.weather.outlooks import season_at
from exchange.domain.circle.border import BorderRow, passage
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch
from exchange.domain.growing.fit import OutFrom
from exchange.domain.growing.room import taken_by
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Variety
from exchange.domain.posting.way import Carriage, Way
from exchange.domain.sharing import case as sharing
from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.pairs import wanted
from exchange.domain.sharing.spare import Spare
from exchange.domain.sharing.states import GIVEN, STANDING, ShareOutState
from exchange.domain.weather.climate import Climate
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    CLAIMS,
    PARCEL_LINES,
    PARCELS,
    PLACES,
    SPARES,
    Tx,
    circles,
    weather_kept,
)
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.records.rows.sharing import AllocationRow, ShareOutRow
from exchange.records.varieties import standing_varieties
from exchange.reference.borders import border_rows


def share_out_case(
    tx: Tx,
    circle_id: int,
    share_out: ShareOutRow,
    now: datetime,
    extra: tuple[Claim, ...] = (),
) -> ShareOutCase:
    """Give the case of a share-out as the circle stands now; what it gave, once confirmed, is kept.

    Parameters
    ----------
    extra : claims considered beside the recorded ones, replacing any with the same id
    """
    circle = circles.get(tx, circle_id)
    standing = ALLOCATIONS.all(tx, circle_id, state=STANDING)
    kept = tuple(one for one in standing if one.share_out_id == share_out.id)
    others = tuple(one for one in standing if one.share_out_id != share_out.id)
    giving = _counted(kept, "spare_id")
    spares = _spares(tx, circle_id, giving)
    instead = {one.id for one in extra}
    made = _claims(tx, circle_id, _counted(others, "claim_id"), _counted(kept, "claim_id"))
    claims = (*(one for one in made if one.id not in instead), *extra)
    places = PLACES.by_id(tx, circle_id)
    own = weather_kept.climates(tx, circle_id)
    given, received = given_and_received(tx, circle_id, without=share_out.id)
    terms = sharing_terms(circle)
    batches = _batches(tx, circle_id, kept)
    return ShareOutCase(
        closes_on=_closes_on(share_out, today_in(circle, now)),
        draw_number=share_out.draw_number,
        households=tuple(households(tx, circle_id).values()),
        places=tuple(places.values()),
        shelters=shelters(tx, circle_id),
        varieties=_varieties(standing_varieties(tx, circle_id), spares),
        batches=batches,
        spares=tuple(_spare(one, giving[one.id]) for one in spares),
        claims=claims,
        taken=_taken(tx, circle_id, batches, others),
        passage=_passages(places, spares, {one.place_id for one in claims}),
        safe_from=_safe_from(places, share_out.closes_on.year, own),
        terms=terms,
        given=given if terms.shift else {},
        received=received if terms.shift else {},
        postage=_postage(ways(tx, circle_id).values(), spares, claims, places),
        pins=pins_of(share_out),
        forbids=_standing_forbids(share_out, spares, claims),
        kept=tuple(sharing.Allocation(one.spare_id, one.claim_id, one.count) for one in kept),
    )


def offers_case(
    tx: Tx, circle_id: int, claims: Iterable[ClaimRow], closes_on: date
) -> tuple[ShareOutCase, tuple[Claim, ...]]:
    """Give what is offered now as a case for the claims of one household, and the claims; the offers are read once.

    Parameters
    ----------
    closes_on : before which nothing is posted
    """
    asking = tuple(_claim(one, one.asked) for one in claims)
    wanted_now = {variety for one in asking for variety in wanted(one)}
    offered = tuple(
        one for one in _spares(tx, circle_id, Counter()) if one.variety_id in wanted_now
    )
    places = PLACES.by_id(tx, circle_id)
    askers = {one.household_id for one in asking}
    own = {key: place for key, place in places.items() if place.household_id in askers}
    climates = weather_kept.climates(tx, circle_id)
    standing = ALLOCATIONS.all(tx, circle_id, state=STANDING)
    case = ShareOutCase(
        closes_on=closes_on,
        draw_number="",
        households=tuple(households(tx, circle_id).values()),
        places=tuple(places.values()),
        shelters=tuple(one for one in shelters(tx, circle_id) if one.place_id in own),
        varieties=_varieties(standing_varieties(tx, circle_id), offered),
        spares=tuple(_spare(one, 0) for one in offered),
        taken=_taken(tx, circle_id, BATCHES.all(tx, circle_id), standing),
        passage=_passages(places, offered, own),
        safe_from=_safe_from(own, closes_on.year, climates),
    )
    return case, asking


def _safe_from(
    places: Mapping[int, Place], year: int, own: Mapping[int, Climate]
) -> dict[int, OutFrom]:
    """Give from when plants may stand outdoors at each place, where it is known."""
    return {
        place.id: OutFrom.of(found)
        for place in places.values()
        if (found := season_at(place, year, own.get(place.id)))
    }


def _closes_on(share_out: ShareOutRow, today: date) -> date:
    """Give the day before which nothing is posted; once confirmed, none that has passed."""
    return (
        max(share_out.closes_on, today)
        if share_out.state == ShareOutState.CONFIRMED
        else share_out.closes_on
    )


def _standing_forbids(
    share_out: ShareOutRow, spares: Iterable[SpareRow], claims: Iterable[Claim]
) -> tuple[tuple[int, int], ...]:
    """Give the pairs kept apart that both still exist."""
    here, wanting = {one.id for one in spares}, {one.id for one in claims}
    return tuple(pair for pair in forbids_of(share_out) if pair[0] in here and pair[1] in wanting)


def _counted(allocations: Iterable[AllocationRow], end: str) -> Counter[int]:
    """Count the plants by spare or by claim [plants]."""
    counts = Counter[int]()
    for one in allocations:
        counts[getattr(one, end)] += one.count
    return counts


def _spares(tx: Tx, circle_id: int, giving: Counter[int]) -> tuple[SpareRow, ...]:
    """Give the spares with plants left or kept; a held one only where all of its variety are held.

    Where every spare is held, the claims are told so; where one was released, only it is given.
    """
    listed = SPARES.all(tx, circle_id, withdrawn_at=None, set_aside_for=None)
    left = {one.id for one in listed if one.count > one.allocated}
    entries = tuple(one for one in SPARES.all(tx, circle_id) if one.id in left or giving[one.id])
    let_go = {one.variety_id for one in entries if not one.held}
    return tuple(
        one for one in entries if not one.held or giving[one.id] or one.variety_id not in let_go
    )


def _spare(one: SpareRow, giving: int) -> Spare:
    left = one.count - one.allocated if one.withdrawn_at is None else 0
    return Spare(
        one.id,
        one.household_id,
        one.place_id,
        one.variety_id,
        one.material,
        one.raised,
        left + giving,
        one.ready_from,
        one.send_by,
        None,
        one.roots_seen,
    )


def _varieties(varieties: Iterable[Variety], spares: Iterable[SpareRow]) -> tuple[Variety, ...]:
    """Mark a protected variety as free where the organiser has let a spare of it go."""
    let_go = {one.variety_id for one in spares if not one.held}
    return tuple(
        replace(one, protected=one.protected and one.id not in let_go) for one in varieties
    )


def _claims(tx: Tx, circle_id: int, given: Counter[int], kept: Counter[int]) -> tuple[Claim, ...]:
    """Give the claims that still ask for plants or were given some that are kept."""
    entries = CLAIMS.all(tx, circle_id, set_aside=False)
    asked = {
        one.id: max(kept[one.id], 0 if one.withdrawn_at else one.asked - given[one.id])
        for one in entries
    }
    return tuple(_claim(one, asked[one.id]) for one in entries if asked[one.id] > 0)


def _claim(one: ClaimRow, asked: int) -> Claim:
    return Claim(
        one.id,
        one.household_id,
        one.place_id,
        one.variety_id,
        asked,
        one.choice,
        one.materials,
        one.no_use_after,
        one.alternatives,
    )


def _batches(tx: Tx, circle_id: int, kept: Iterable[AllocationRow]) -> tuple[Batch, ...]:
    """Give the living batches except those from what is kept, which counts as on its way."""
    ids = {one.id for one in kept}
    parcels = {row.parcel_id for row in PARCEL_LINES.all(tx, circle_id) if row.allocation_id in ids}
    came = {
        (one.receiver_place_id, origin_of(one)) for one in PARCELS.all(tx, circle_id, id=parcels)
    }
    return tuple(
        one for one in BATCHES.all(tx, circle_id) if (one.place_id, one.origin) not in came
    )


def _taken(
    tx: Tx, circle_id: int, batches: Iterable[Batch], standing: Iterable[AllocationRow]
) -> dict[tuple[int, ShelterKind], int]:
    """Count pots already standing and those on their way, which go to the warmest shelter known."""
    taken = taken_by(batches)
    claims = CLAIMS.by_id(tx, circle_id)
    kinds: dict[int, ShelterKind] = {}
    order = list(ShelterKind)
    for shelter in shelters(tx, circle_id):
        known = kinds.get(shelter.place_id)
        if known is None or order.index(shelter.kind) < order.index(known):
            kinds[shelter.place_id] = shelter.kind
    ended = _ended(tx, circle_id)
    for one in standing:
        place_id = claims[one.claim_id].place_id
        if place_id in kinds and one.id not in ended:
            key = (place_id, kinds[place_id])
            taken[key] = taken.get(key, 0) + one.count
    return taken


def _ended(tx: Tx, circle_id: int) -> set[int]:
    """Give the allocations whose parcel came or was lost: what lives of them stands in batches."""
    ended = {one.id for one in PARCELS.all(tx, circle_id, state=ENDED_THERE)}
    return {row.allocation_id for row in PARCEL_LINES.all(tx, circle_id) if row.parcel_id in ended}


def _passages(
    places: Mapping[int, Place], spares: Iterable[SpareRow], destinations: Iterable[int]
) -> dict[tuple[int, int], BorderRow | None]:
    origins = sorted({one.place_id for one in spares})
    rows = border_rows()
    return {
        (origin, destination): passage(places[origin], places[destination], rows)
        for origin in origins
        for destination in sorted(destinations)
    }


def given_and_received(
    tx: Tx, circle_id: int, without: int | None = None
) -> tuple[dict[int, int], dict[int, int]]:
    """Count what each household gave and received in share-outs [household id -> plants].

    What was lost on the way was given, and not received.

    Parameters
    ----------
    without : a share-out left out
    """
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    given, received = Counter[int](), Counter[int]()
    for one in ALLOCATIONS.all(tx, circle_id, state=GIVEN):
        if claims[one.claim_id].set_aside or one.share_out_id == without:
            continue
        given[spares[one.spare_id].household_id] += one.count
        if one.state in STANDING:
            received[claims[one.claim_id].household_id] += one.count
    return dict(given), dict(received)


def _postage(
    known: Iterable[Way],
    spares: Iterable[SpareRow],
    claims: Iterable[Claim],
    places: Mapping[int, Place],
) -> dict[tuple[int, int], int] | None:
    """Give the cheapest typed-in tariff from each household to each place, or None without tariffs."""
    cheapest: dict[str, int] = {}
    for way in known:
        if way.carriage is Carriage.POST and way.postage is not None:
            cheapest[way.country] = min(way.postage, cheapest.get(way.country, way.postage))
    if not cheapest:
        return None
    senders = sorted({(one.household_id, places[one.place_id].country) for one in spares})
    receivers = sorted({one.place_id for one in claims})
    return {
        (household_id, place_id): cheapest.get(country, 0)
        for household_id, country in senders
        for place_id in receivers
    }
