"""Fetching forecasts: outside any transaction, kept as evidence, faults shown."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, circle_of
from exchange.domain.circle.place import Place
from exchange.domain.permissions import Permission
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts import ask_all
from exchange.forecasts.base import Fetched, ForecastFault
from exchange.forecasts.freshness import is_due
from exchange.forecasts.services import ForecastServices
from exchange.records import FAULTS, PLACES, Tx, forecasts_kept, weather_kept
from exchange.words.weather.weather import wait_sentence

KEPT_FOR = timedelta(days=270)
"""Forecasts are kept for the season and pruned after it (judgement)."""

ALL_KEPT_FOR = timedelta(days=7)
"""How long every forecast is kept; after that, only the first of each day (judgement)."""


@dataclass(frozen=True, slots=True)
class FetchResult:
    """What fetching brought.

    Attributes
    ----------
    places : places a forecast was fetched for [places]
    kept : places whose forecast is still fresh and was not asked for [places]
    faults : sentences
    sources : places by the source that had a forecast for them [places]
    """

    places: int
    kept: int
    faults: tuple[str, ...]
    sources: Mapping[str, int]

    @property
    def nothing_known(self) -> bool:
        """Whether nothing was fetched and nothing fresh is kept."""
        return not self.places and not self.kept


def fetch_forecasts(actor: Actor, now: datetime, *, again: bool = False) -> FetchResult:
    """Fetch the forecasts of all places whose forecast has expired.

    A service that asked us to wait is left alone until then; the next one is asked in its place.

    Parameters
    ----------
    again : also fetch those that are still fresh
    """
    actor.must(Permission.RUN_CLOCK)
    with actor.books.reading() as tx:
        latest = forecasts_kept.latest(tx, actor.circle_id)
        zone = ZoneInfo(circle_of(actor, tx).zone)
        places = PLACES.all(tx, actor.circle_id)
        waits = _waits(tx, actor, now)
    stale = [place for place in places if again or is_due(latest.get(place.id), now)]
    services, told = _not_waiting(actor.house.forecasts, waits, zone)
    fetched = _fetch(services, stale, now, latest)
    with actor.books.writing() as tx:
        here = {place.id for place in PLACES.all(tx, actor.circle_id)}
        for forecast in fetched.forecasts:
            if forecast.place_id in here:
                _keep(tx, actor.circle_id, forecast, latest.get(forecast.place_id))
        for fault in fetched.faults:
            _keep_fault(tx, actor, fault, now)
        weather_kept.thin(tx, actor.circle_id, now - ALL_KEPT_FOR)
        weather_kept.forget_faults(tx, actor.circle_id, now - KEPT_FOR)
        forecasts_kept.forget(tx, actor.circle_id, now - KEPT_FOR)
    faults = (*told, *(fault.sentence for fault in fetched.faults)) if stale else ()
    return FetchResult(
        places=len(fetched.forecasts),
        kept=len(places) - len(stale),
        faults=tuple(dict.fromkeys(faults)),
        sources=Counter(forecast.source for forecast in fetched.forecasts),
    )


def _fetch(
    services: ForecastServices,
    places: Sequence[Place],
    now: datetime,
    latest: Mapping[int, Forecast],
) -> Fetched:
    if not places:
        return Fetched()
    return ask_all.fetch(services, places, now, known=latest)


def _waits(tx: Tx, actor: Actor, now: datetime) -> dict[str, datetime]:
    """Give until when each source wishes not to be asked."""
    waits: dict[str, datetime] = {}
    for fault in FAULTS.all(tx, actor.circle_id):
        if fault.not_before is not None and fault.not_before > now:
            waits[fault.source] = max(fault.not_before, waits.get(fault.source, now))
    return waits


def _not_waiting(
    services: ForecastServices, waits: Mapping[str, datetime], zone: ZoneInfo
) -> tuple[ForecastServices, tuple[str, ...]]:
    """Leave out the services that asked us to wait, and say so; a saved file never does."""
    if services.saved_file:
        return services, ()
    named = [(name, ask_all.SOURCES.get(name, name)) for name in services.order]
    order = tuple(name for name, source in named if source not in waits)
    told = tuple(
        wait_sentence(source, waits[source].astimezone(zone))
        for _name, source in named
        if source in waits
    )
    return replace(services, order=order), told


def _keep(tx: Tx, circle_id: int, forecast: Forecast, known: Forecast | None) -> None:
    """Keep a forecast; an unchanged one is not kept a second time."""
    if known is not None and _is_same(forecast, known):
        weather_kept.renew(tx, circle_id, forecast)
    else:
        forecasts_kept.add(tx, circle_id, forecast)


def _is_same(forecast: Forecast, known: Forecast) -> bool:
    return replace(forecast, fetched_at=known.fetched_at, expires_at=known.expires_at) == known


def _keep_fault(tx: Tx, actor: Actor, fault: ForecastFault, now: datetime) -> None:
    FAULTS.add(
        tx,
        actor.circle_id,
        source=fault.source,
        what=fault.sentence,
        at=now,
        not_before=fault.not_before,
    )
