"""Everything one share-out needs, joined from the records and what is packaged."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime

from exchange.actions.facts import ALLOCATED, households, shelters, ways
from exchange.actions.outlooks import safe_from
from exchange.actions.share_out_kept import forbids_of, pins_of
from exchange.actions.terms_kept import sharing_terms
from exchange.domain.circle.border import BorderRow, passage
from exchange.domain.circle.place import Place
from exchange.domain.growing.room import taken_by
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Variety
from exchange.domain.posting.way import Carriage, Way
from exchange.domain.sharing.case import Case
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.spare import Spare
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    CLAIMS,
    PLACES,
    SPARES,
    VARIETIES,
    Tx,
    circles,
    weather_kept,
)
from exchange.records.values import Allocation, ClaimEntry, ShareOutEntry, SpareEntry
from exchange.reference.borders import border_rows


def share_out_case(
    tx: Tx,
    circle_id: int,
    share_out: ShareOutEntry,
    now: datetime,
    extra: tuple[Claim, ...] = (),
) -> Case:
    """Give the case of a share-out as the circle stands now.

    Parameters
    ----------
    extra : claims to look at beside those that are made
    """
    del now
    circle = circles.get(tx, circle_id)
    standing = ALLOCATIONS.all(tx, circle_id, state=ALLOCATED)
    spares = _spares(tx, circle_id)
    claims = (*_claims(tx, circle_id, standing), *extra)
    places = PLACES.by_id(tx, circle_id)
    own = weather_kept.climates(tx, circle_id)
    given, received = given_and_received(tx, circle_id)
    terms = sharing_terms(circle)
    return Case(
        closes_on=share_out.closes_on,
        draw_number=share_out.draw_number,
        households=tuple(households(tx, circle_id).values()),
        places=tuple(places.values()),
        shelters=shelters(tx, circle_id),
        varieties=_varieties(VARIETIES.by_id(tx, circle_id), spares),
        batches=BATCHES.all(tx, circle_id),
        spares=tuple(_spare(one) for one in spares),
        claims=claims,
        taken=_taken(tx, circle_id, standing),
        passage=_passages(places, spares, claims),
        safe_from={
            place.id: safe_from(place, share_out.closes_on.year, own.get(place.id))
            for place in places.values()
        },
        terms=terms,
        given=given if terms.shift else {},
        received=received if terms.shift else {},
        postage=_postage(ways(tx, circle_id).values(), spares, claims, places),
        pins=pins_of(share_out),
        forbids=_standing_forbids(share_out, spares, claims),
    )


def _standing_forbids(
    share_out: ShareOutEntry, spares: Iterable[SpareEntry], claims: Iterable[Claim]
) -> tuple[tuple[int, int], ...]:
    """Give the pairs kept apart of which both are still there."""
    here, wanting = {one.id for one in spares}, {one.id for one in claims}
    return tuple(pair for pair in forbids_of(share_out) if pair[0] in here and pair[1] in wanting)


def _spares(tx: Tx, circle_id: int) -> tuple[SpareEntry, ...]:
    """Give the spares with plants left; a held one only where all of its variety are held.

    Where every spare is held the claims are told so; where one was let go only that one is given.
    """
    listed = SPARES.all(tx, circle_id, withdrawn_at=None, set_aside_for=None)
    left = tuple(one for one in listed if one.count > one.allocated)
    let_go = {one.variety_id for one in left if not one.held}
    return tuple(one for one in left if not one.held or one.variety_id not in let_go)


def _spare(one: SpareEntry) -> Spare:
    return Spare(
        one.id,
        one.household_id,
        one.place_id,
        one.variety_id,
        one.material,
        one.raised,
        one.count - one.allocated,
        one.ready_from,
        one.send_by,
        None,
        one.roots_seen,
    )


def _varieties(
    varieties: Mapping[int, Variety], spares: Iterable[SpareEntry]
) -> tuple[Variety, ...]:
    """Mark a protected variety as free where the organiser has let a spare of it go."""
    let_go = {one.variety_id for one in spares if not one.held}
    return tuple(
        replace(one, protected=one.protected and one.id not in let_go) for one in varieties.values()
    )


def _claims(tx: Tx, circle_id: int, standing: Iterable[Allocation]) -> tuple[Claim, ...]:
    given = Counter[int]()
    for one in standing:
        given[one.claim_id] += one.count
    entries = CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    return tuple(_claim(one, given[one.id]) for one in entries if one.asked > given[one.id])


def _claim(one: ClaimEntry, given: int) -> Claim:
    return Claim(
        one.id,
        one.household_id,
        one.place_id,
        one.variety_id,
        one.asked - given,
        one.choice,
        one.materials,
        one.no_use_after,
        one.alternatives,
    )


def _taken(
    tx: Tx, circle_id: int, standing: Iterable[Allocation]
) -> dict[tuple[int, ShelterKind], int]:
    """Count pots already standing and those on their way, which go to the warmest shelter told."""
    taken = taken_by(BATCHES.all(tx, circle_id))
    claims = CLAIMS.by_id(tx, circle_id)
    kinds: dict[int, ShelterKind] = {}
    order = list(ShelterKind)
    for shelter in shelters(tx, circle_id):
        known = kinds.get(shelter.place_id)
        if known is None or order.index(shelter.kind) < order.index(known):
            kinds[shelter.place_id] = shelter.kind
    for one in standing:
        place_id = claims[one.claim_id].place_id
        if place_id in kinds:
            key = (place_id, kinds[place_id])
            taken[key] = taken.get(key, 0) + one.count
    return taken


def _passages(
    places: Mapping[int, Place], spares: Iterable[SpareEntry], claims: Iterable[Claim]
) -> dict[tuple[int, int], BorderRow | None]:
    origins = sorted({one.place_id for one in spares})
    destinations = sorted({one.place_id for one in claims})
    rows = border_rows()
    return {
        (origin, destination): passage(places[origin], places[destination], rows)
        for origin in origins
        for destination in destinations
    }


def given_and_received(tx: Tx, circle_id: int) -> tuple[dict[int, int], dict[int, int]]:
    """Count what each household gave and received in share-outs [household id -> plants]."""
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    given, received = Counter[int](), Counter[int]()
    for one in ALLOCATIONS.all(tx, circle_id, state=ALLOCATED):
        if claims[one.claim_id].set_aside:
            continue
        given[spares[one.spare_id].household_id] += one.count
        received[claims[one.claim_id].household_id] += one.count
    return dict(given), dict(received)


def _postage(
    known: Iterable[Way],
    spares: Iterable[SpareEntry],
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
