"""The circle's lists, for the organiser: as CSV, and as plain text."""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from exchange.actions.kernel.actor import Actor
from exchange.actions.posting.plan_facts import lines_by_parcel
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.domain.sharing.states import STANDING
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    CLAIMS,
    HOUSEHOLDS,
    MEMBERS,
    PARCELS,
    PLACES,
    SPARES,
    VARIETIES,
    WAYS,
    Tx,
)
from exchange.sheets.csv_file import Cell, csv_bytes
from exchange.words.circle import lists as words
from exchange.words.growing import plants

Rows = list[tuple[Cell, ...]]


@dataclass(frozen=True, slots=True)
class CircleList:
    """A list with the heads of its columns."""

    name: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def csv(self) -> bytes:
        return csv_bytes(self.heads, self.rows)

    @property
    def text(self) -> str:
        return words.as_text(self.heads, self.rows)


def circle_list(actor: Actor, name: str) -> CircleList:
    """Give a list of the circle by its name, such as "spares".

    Raises
    ------
    KeyError
        When there is no such list.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        rows = _ROWS[name](tx, actor.circle_id)
    plain = tuple(
        tuple(words.plain(cell) if isinstance(cell, str) else cell for cell in row) for row in rows
    )
    return CircleList(name, words.TITLES[name], words.HEADS[name], plain)


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
        for one in VARIETIES.all(tx, circle_id)
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


_ROWS: Mapping[str, Callable[[Tx, int], Rows]] = MappingProxyType(
    {
        "varieties": _varieties,
        "spares": _spares,
        "claims": _claims,
        "stock": _stock,
        "members": _members,
        "parcels": _parcels,
    }
)


def _named(variety: Variety) -> tuple[str, str]:
    return variety.name, plants.species(variety.species)


def _households(tx: Tx, circle_id: int) -> dict[int, str]:
    return {one.id: one.name for one in HOUSEHOLDS.all(tx, circle_id)}
