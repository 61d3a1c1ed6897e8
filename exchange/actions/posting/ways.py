"""The ways of sending a circle uses: looked at, changed, and added to; by hand is always there."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TypedDict

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.packaged_ways import ensure_ways, missing_ways
from exchange.actions.posting.route import Through, route_version, through_by_way
from exchange.domain.permissions import Permission
from exchange.domain.posting.way import Carriage
from exchange.records import PLACES, WAYS, Tx
from exchange.records.rows.posting import WayRow

OWN_WEIGHT = 10
"""What a circle says of its own way counts as much as this many parcels reported [parcels]."""

LONGEST_NAME = 60
MOST_POSTAGE = 100_000
"""The dearest postage believed [smallest coin]."""


class WayRefusedError(RefusedError):
    """The way cannot be kept as it was written."""


@dataclass(frozen=True, slots=True)
class WayTerms:
    """What a circle may change of a way.

    Attributes
    ----------
    cut_off_hour : last full hour at which a parcel is taken in [h]
    postage : of a usual parcel, None where it was not typed in [smallest coin]
    """

    used: bool
    hand_over_weekdays: frozenset[int]
    delivery_weekdays: frozenset[int]
    cut_off_hour: int
    postage: int | None


@dataclass(frozen=True, slots=True)
class NewWay:
    """A way of the circle's own.

    Attributes
    ----------
    in_hundred : of a hundred parcels, how many come on the first, second, third day, and later
    """

    name: str
    country: str
    quick: bool
    in_hundred: tuple[int, int, int, int]
    terms: WayTerms


@dataclass(frozen=True, slots=True)
class WaysPage:
    """Every way the circle knows, by hand last, and the towns they go through [way id -> through]."""

    ways: tuple[WayRow, ...]
    through: Mapping[int, Through]


@dataclass(frozen=True, slots=True)
class WayPage:
    """One way.

    Attributes
    ----------
    through : the town it goes through, None where it has none
    version, route_version : of what may be changed of it, and of the town it goes through
    """

    way: WayRow
    through: Through | None
    version: str
    route_version: str


def ways_page(actor: Actor) -> WaysPage:
    """Give every way the circle knows; the packaged ones are added when first seen."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        if not missing_ways(tx, actor.circle_id):
            return _all_ways(tx, actor.circle_id)
    with actor.books.writing() as tx:
        ensure_ways(tx, actor.circle_id)
        return _all_ways(tx, actor.circle_id)


def countries_of(actor: Actor) -> tuple[str, ...]:
    """Give the countries the circle's places lie in."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return _countries(tx, actor.circle_id)


def is_by_hand(way: WayRow) -> bool:
    """Say whether it is the way without post."""
    return way.carriage == Carriage.BY_HAND.value


def way_page(actor: Actor, way_id: int) -> WayPage:
    """Give one way."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        way = WAYS.get(tx, actor.circle_id, way_id)
        return WayPage(
            way,
            through_by_way(tx, actor.circle_id).get(way_id),
            _version(way),
            route_version(tx, actor.circle_id, way_id),
        )


def change_way(
    actor: Actor, way_id: int, terms: WayTerms, now: datetime, opened: str | None = None
) -> str:
    """Change what a circle may change of a way, and give its name; parcels are weighed again.

    Parameters
    ----------
    opened : the version the form was opened with

    Raises
    ------
    WayRefusedError
        When the terms are impossible, or "by hand" would be removed.
    EditedMeanwhileError
        When somebody else changed it after the form was opened.
    """
    actor.must(Permission.RUN_CIRCLE)
    _check(terms)
    with actor.books.writing() as tx:
        way = WAYS.get(tx, actor.circle_id, way_id)
        must_be_as_opened(opened, _version(way))
        if is_by_hand(way) and not terms.used:
            raise WayRefusedError("By hand is always there; it costs nothing.", "used")
        WAYS.change(tx, actor.circle_id, way_id, **_columns(terms))
        note(tx, actor, "changed a way of sending", way.name, now)
        ask(tx, actor, "plan", None, now)
    return way.name


def add_way(actor: Actor, new: NewWay, now: datetime) -> int:
    """Add a way of the circle's own.

    Raises
    ------
    WayRefusedError
        When its name is taken, or its figures do not add up.
    """
    actor.must(Permission.RUN_CIRCLE)
    _check(new.terms)
    name = _checked_name(new.name)
    _check_odds(new.in_hundred)
    with actor.books.writing() as tx:
        if new.country not in _countries(tx, actor.circle_id):
            raise WayRefusedError("Choose a country in which somebody grows.", "country")
        if any(one.name.casefold() == name.casefold() for one in WAYS.all(tx, actor.circle_id)):
            raise WayRefusedError("There is a way of that name; give another.", "name")
        way_id = WAYS.add(
            tx,
            actor.circle_id,
            name=name,
            country=new.country,
            carriage=Carriage.POST,
            odds=tuple(OWN_WEIGHT * share / 100 for share in new.in_hundred),
            quick=new.quick,
            source="the circle’s own word",
            **_columns(new.terms),
        )
        note(tx, actor, "added a way of sending", name, now)
        ask(tx, actor, "plan", None, now)
    return way_id


class _WaySaid(TypedDict):
    used: bool
    hand_over_weekdays: frozenset[int]
    delivery_weekdays: frozenset[int]
    cut_off_hour: float
    postage: int | None


CHANGEABLE = tuple(_WaySaid.__annotations__)
"""Columns of a way that a circle may change."""


def _all_ways(tx: Tx, circle_id: int) -> WaysPage:
    known = WAYS.all(tx, circle_id)
    by_hand_last = sorted(known, key=lambda one: (is_by_hand(one), one.country, one.id))
    return WaysPage(tuple(by_hand_last), through_by_way(tx, circle_id))


def _version(way: WayRow) -> str:
    return version_of(way, CHANGEABLE)


def _countries(tx: Tx, circle_id: int) -> tuple[str, ...]:
    return tuple(sorted({one.country for one in PLACES.all(tx, circle_id)}))


def _columns(terms: WayTerms) -> _WaySaid:
    return {
        "used": terms.used,
        "hand_over_weekdays": terms.hand_over_weekdays,
        "delivery_weekdays": terms.delivery_weekdays,
        "cut_off_hour": float(terms.cut_off_hour),
        "postage": terms.postage,
    }


def _check(terms: WayTerms) -> None:
    if not terms.hand_over_weekdays:
        raise WayRefusedError("Tick at least one day.", "hand_over_weekdays")
    if not terms.delivery_weekdays:
        raise WayRefusedError("Tick at least one day.", "delivery_weekdays")
    if not 0 <= terms.cut_off_hour <= 23:
        raise WayRefusedError("Write an hour from 0 to 23, such as 16.", "cut_off_hour")
    if terms.postage is not None and not 0 <= terms.postage <= MOST_POSTAGE:
        raise WayRefusedError(
            "Write the postage in whole pence, such as 349, or leave it empty.", "postage"
        )


def _checked_name(name: str) -> str:
    name = " ".join(name.split())
    if not 1 <= len(name) <= LONGEST_NAME:
        raise WayRefusedError(f"Give it a name of at most {LONGEST_NAME} letters.", "name")
    return name


def _check_odds(in_hundred: tuple[int, int, int, int]) -> None:
    if any(one < 0 for one in in_hundred) or sum(in_hundred) != 100:
        raise WayRefusedError("The four numbers must add up to 100.", "next_day")
