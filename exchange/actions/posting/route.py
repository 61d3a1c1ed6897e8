"""The towns that ways of sending go through, and the nights there."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.people.towns import Town, name_of
from exchange.actions.weather.outlooks import NIGHTS_AHEAD
from exchange.domain.circle.earth import distance_km
from exchange.domain.permissions import Permission
from exchange.domain.posting.route_point import RoutePoint
from exchange.domain.posting.way import Carriage
from exchange.domain.weather.forecast import Forecast, Outlook
from exchange.domain.weather.outlook import outlook
from exchange.records import PLACES, ROUTE_POINTS, WAYS, Tx, forecasts_kept
from exchange.reference.stations import climate_near

FORECAST_WITHIN_KM = 30.0
"""A member's place this near gives a route point its forecast (judgement) [km]."""


_TOWN = ("town", "county", "country", "subdivision")
"""What of a route point its form shows."""


class NightsFrom(StrEnum):
    """What is known of the nights at a route point."""

    FORECAST_NEARBY = "forecast nearby"
    USUAL_ONLY = "usual only"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Through:
    """What the pages say of a route point: "Shap, Cumbria", and what its nights come from."""

    name: str
    nights: NightsFrom


@dataclass(frozen=True, slots=True)
class _Spot:
    """A route point as the weather sees it, on open ground."""

    id: int
    zone: str
    height_m: float | None
    lie: str = "open"


class NoRouteError(RefusedError):
    """By hand a parcel lies in no depot."""


def route_outlooks(tx: Tx, circle_id: int, now: datetime) -> dict[int, Outlook]:
    """Give the coming nights of every route point [number -> outlook].

    Forecasts are asked for at members' places only; the nearest within reach is used instead.
    """
    points = ROUTE_POINTS.all(tx, circle_id)
    lent = _forecasts_near(tx, circle_id, points)
    return {one.number: _outlook(one, lent.get(one.id), now) for one in points}


def through_by_way(tx: Tx, circle_id: int) -> Mapping[int, Through]:
    """Give the town each way goes through, for those that have one [way id -> through]."""
    points = ROUTE_POINTS.all(tx, circle_id)
    lent = _forecasts_near(tx, circle_id, points)
    return {one.way_id: Through(_name(one), _nights_from(one, lent.get(one.id))) for one in points}


def route_version(tx: Tx, circle_id: int, way_id: int) -> str:
    """Give the version of what a way goes through, for its form."""
    known = ROUTE_POINTS.find(tx, circle_id, way_id=way_id)
    return "" if known is None else version_of(known, _TOWN)


def go_through(
    actor: Actor, way_id: int, town: Town, now: datetime, opened: str | None = None
) -> str:
    """Let a way go through a town, in place of the one it went through, and give the way's name.

    Parcels are weighed again.

    Parameters
    ----------
    opened : the version the form was opened with

    Raises
    ------
    NoRouteError
        When the way is by hand.
    EditedMeanwhileError
        When somebody else changed the route after the form was opened.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        way = WAYS.get(tx, actor.circle_id, way_id)
        if way.carriage == Carriage.BY_HAND.value:
            raise NoRouteError("By hand a parcel lies in no depot.", "town")
        must_be_as_opened(opened, route_version(tx, actor.circle_id, way_id))
        _remove(tx, actor.circle_id, way_id)
        ROUTE_POINTS.add(
            tx,
            actor.circle_id,
            way_id=way_id,
            town=town.town,
            county=town.county,
            country=town.country,
            subdivision=town.subdivision,
            latitude=town.latitude,
            longitude=town.longitude,
            zone=town.zone,
        )
        what = f"{way.name} goes through {name_of(town)}"
        note(tx, actor, "said what a way goes through", what, now)
        ask(tx, actor, "plan", None, now)
    return way.name


def go_straight(actor: Actor, way_id: int, now: datetime) -> None:
    """Let a way go through no town; parcels are weighed again."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        way = WAYS.get(tx, actor.circle_id, way_id)
        if not _remove(tx, actor.circle_id, way_id):
            return
        note(tx, actor, "said that a way goes through no town", way.name, now)
        ask(tx, actor, "plan", None, now)


def _remove(tx: Tx, circle_id: int, way_id: int) -> bool:
    known = ROUTE_POINTS.find(tx, circle_id, way_id=way_id)
    if known is not None:
        ROUTE_POINTS.remove(tx, circle_id, known.id)
    return known is not None


def _forecasts_near(tx: Tx, circle_id: int, points: tuple[RoutePoint, ...]) -> dict[int, Forecast]:
    """Give the forecast of the nearest place within reach that has one [route point id -> forecast]."""
    if not points:
        return {}
    forecasts = forecasts_kept.latest(tx, circle_id)
    places = [one for one in PLACES.all(tx, circle_id) if one.id in forecasts]
    found: dict[int, Forecast] = {}
    for point in points:
        here = (point.latitude, point.longitude)
        away = {one.id: distance_km(here, (one.latitude, one.longitude)) for one in places}
        near = min(away, key=lambda place_id: (away[place_id], place_id), default=None)
        if near is not None and away[near] <= FORECAST_WITHIN_KM:
            found[point.id] = replace(forecasts[near], place_id=point.number)
    return found


def _outlook(point: RoutePoint, lent: Forecast | None, now: datetime) -> Outlook:
    first = now.astimezone(ZoneInfo(point.zone)).date() - timedelta(days=1)
    spot = _Spot(point.number, point.zone, point.height_m)
    climate = climate_near(point.latitude, point.longitude)
    return outlook(spot, lent, climate, (first, NIGHTS_AHEAD), now)


def _nights_from(point: RoutePoint, lent: Forecast | None) -> NightsFrom:
    if lent is not None:
        return NightsFrom.FORECAST_NEARBY
    usual = climate_near(point.latitude, point.longitude)
    return NightsFrom.NOTHING if usual is None else NightsFrom.USUAL_ONLY


def _name(point: RoutePoint) -> str:
    return name_of(
        Town(
            town=point.town,
            county=point.county,
            country=point.country,
            subdivision=point.subdivision,
            latitude=point.latitude,
            longitude=point.longitude,
            zone=point.zone,
        )
    )
