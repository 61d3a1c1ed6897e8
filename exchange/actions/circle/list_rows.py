"""The rows of the circle's lists, by the name of the list."""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping
from types import MappingProxyType
from zoneinfo import ZoneInfo

from exchange.actions.posting.plan_facts import lines_by_parcel
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.states import STANDING
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    CLAIMS,
    CLOSURES,
    DEEDS,
    HOUSEHOLDS,
    MEMBERS,
    PARCELS,
    PLACES,
    SHARE_OUTS,
    SHELTERS,
    SPARES,
    VARIETIES,
    WAYS,
    Tx,
    circles,
)
from exchange.records.varieties import standing_varieties
from exchange.words.circle import lists as words
from exchange.words.circle.terms import weekdays
from exchange.words.growing import plants
from exchange.words.kernel.areas import area_words
from exchange.words.posting import ways as way_words

Rows = list[tuple[str | int, ...]]


def _varieties(tx: Tx, circle_id: int) -> Rows:
    return [
        (
            one.name,
            plants.species(one.species),
            plants.keeps(one.keeps),
            words.yes(holds=one.must_not_be_lost),
            one.must_not_be_lost_because,
            one.target_places,
        )
        for one in standing_varieties(tx, circle_id)
    ]


def _spares(tx: Tx, circle_id: int) -> Rows:
    varieties, households = VARIETIES.by_id(tx, circle_id), _households(tx, circle_id)
    return [
        (
            *_named(varieties[one.variety_id]),
            households[one.household_id],
            plants.sent_as(one.material, one.raised, one.count),
            one.count,
            one.allocated,
            words.day(one.ready_from),
            words.day(one.send_by),
            households.get(one.set_aside_for or 0, ""),
            one.note,
        )
        for one in SPARES.all(tx, circle_id, withdrawn_at=None)
    ]


def _claims(tx: Tx, circle_id: int) -> Rows:
    varieties, households = VARIETIES.by_id(tx, circle_id), _households(tx, circle_id)
    given = Counter[int]()
    for one in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        given[one.claim_id] += one.count
    return [
        (
            *_named(varieties[one.variety_id]),
            households[one.household_id],
            one.asked,
            given[one.id],
            one.choice,
            words.day(one.no_use_after),
        )
        for one in CLAIMS.all(tx, circle_id, withdrawn_at=None)
    ]


def _stock(tx: Tx, circle_id: int) -> Rows:
    varieties, households = VARIETIES.by_id(tx, circle_id), _households(tx, circle_id)
    places = PLACES.by_id(tx, circle_id)
    return [
        (
            *_named(varieties[one.variety_id]),
            households[one.household_id],
            places[one.place_id].name,
            plants.sent_as(one.material, one.raised, one.plants),
            one.plants,
            plants.shelter(one.shelter) if one.shelter else "",
            words.day(one.since),
        )
        for one in BATCHES.all(tx, circle_id)
        if one.plants
    ]


def _members(tx: Tx, circle_id: int) -> Rows:
    households = _households(tx, circle_id)
    towns: dict[int, tuple[str, str]] = {}
    for place in PLACES.all(tx, circle_id):
        towns.setdefault(place.household_id, (place.town, place.county))
    return [
        (
            one.full_name,
            households[one.household_id],
            *towns.get(one.household_id, ("", "")),
            one.email or "",
            one.telephone,
            words.yes(holds=one.organiser),
            words.day(one.joined_at.date()),
        )
        for one in MEMBERS.all(tx, circle_id, left_at=None)
    ]


def _parcels(tx: Tx, circle_id: int) -> Rows:
    varieties, households = VARIETIES.by_id(tx, circle_id), _households(tx, circle_id)
    ways = WAYS.by_id(tx, circle_id)
    held: dict[int, list[str]] = defaultdict(list)
    for parcel_id, line in lines_by_parcel(tx, circle_id):
        of = varieties[line.variety_id]
        held[parcel_id].append(
            plants.so_many(line.count, line.material, of.species, of.name, line.raised)
        )
    return [
        (
            one.code,
            households[one.sender_household_id],
            households[one.receiver_household_id],
            one.state.value,
            ways[one.way_id].name if one.way_id else "",
            words.day(one.posting_day),
            words.yes(holds=one.is_announced),
            words.day(one.posted_on),
            words.day(one.arrived_on),
            "; ".join(held[one.id]),
        )
        for one in PARCELS.all(tx, circle_id)
    ]


def _given(tx: Tx, circle_id: int) -> Rows:
    varieties, households = VARIETIES.by_id(tx, circle_id), _households(tx, circle_id)
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    share_outs = {one.id: one.name for one in SHARE_OUTS.all(tx, circle_id)}
    return [
        (
            *_named(varieties[spares[one.spare_id].variety_id]),
            households[spares[one.spare_id].household_id],
            households[claims[one.claim_id].household_id],
            one.count,
            words.answered(one.state),
            share_outs.get(one.share_out_id or 0, ""),
        )
        for one in ALLOCATIONS.all(tx, circle_id)
    ]


def _places(tx: Tx, circle_id: int) -> Rows:
    households = _households(tx, circle_id)
    shelters: dict[int, list[str]] = defaultdict(list)
    for one in SHELTERS.all(tx, circle_id):
        shelters[one.place_id].append(plants.shelter(one.kind))
    return [
        (
            one.name,
            households[one.household_id],
            one.town,
            one.county,
            "" if one.height_m is None else round(one.height_m),
            "; ".join(shelters[one.id]),
        )
        for one in PLACES.all(tx, circle_id)
    ]


def _ways(tx: Tx, circle_id: int) -> Rows:
    return [
        (
            one.name,
            way_words.country(one.country),
            words.yes(holds=one.used),
            way_words.odds(one.odds),
            weekdays(one.hand_over_weekdays),
            way_words.cut_off(one.cut_off_hour),
            "" if one.postage is None else way_words.postage(one.postage, one.country),
        )
        for one in WAYS.all(tx, circle_id)
    ]


def _closures(tx: Tx, circle_id: int) -> Rows:
    return [
        (
            one.label,
            words.day(one.day),
            area_words(one.country, one.subdivision),
            words.yes(holds=one.opened),
        )
        for one in CLOSURES.all(tx, circle_id)
    ]


def _deeds(tx: Tx, circle_id: int) -> Rows:
    names = {one.id: one.full_name for one in MEMBERS.all(tx, circle_id)}
    zone = ZoneInfo(circles.get(tx, circle_id).zone)
    return [
        (
            one.act,
            one.what,
            one.done_at.astimezone(zone).strftime("%Y-%m-%d %H:%M"),
            names.get(one.actor_id or 0, ""),
            names.get(one.for_member_id or 0, ""),
        )
        for one in DEEDS.all(tx, circle_id)
    ]


def _named(variety: Variety) -> tuple[str, str]:
    return variety.name, plants.species(variety.species)


def _households(tx: Tx, circle_id: int) -> dict[int, str]:
    return {one.id: one.name for one in HOUSEHOLDS.all(tx, circle_id)}


ROWS: Mapping[str, Callable[[Tx, int], Rows]] = MappingProxyType(
    {
        "varieties": _varieties,
        "spares": _spares,
        "claims": _claims,
        "stock": _stock,
        "members": _members,
        "parcels": _parcels,
        "given": _given,
        "places": _places,
        "ways": _ways,
        "closures": _closures,
        "deeds": _deeds,
    }
)
