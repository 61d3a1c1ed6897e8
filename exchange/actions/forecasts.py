"""Fetching forecasts: outside any transaction, kept as evidence, faults shown."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from exchange.actions.actor import Actor, circle_of
from exchange.domain.circle.place import Place
from exchange.domain.permissions import Permission
from exchange.forecasts import open_meteo, saved_file
from exchange.forecasts.base import Fault, Fetched
from exchange.forecasts.http import Asking
from exchange.records import FAULTS, PLACES, Tx, forecasts_kept
from exchange.words.phrase import _

KEPT_FOR = timedelta(days=270)
"""Forecasts are kept for the season and pruned after it (judgement)."""


@dataclass(frozen=True, slots=True)
class FetchResult:
    """What fetching brought.

    Attributes
    ----------
    places : places a forecast was fetched for [places]
    kept : places whose forecast is still fresh and was not asked for [places]
    faults : sentences
    """

    places: int
    kept: int
    faults: tuple[str, ...]


def fetch_forecasts(actor: Actor, now: datetime, *, again: bool = False) -> FetchResult:
    """Fetch the forecasts of all places whose forecast has expired.

    Parameters
    ----------
    again : also fetch those that are still fresh
    """
    actor.must(Permission.RUN_CLOCK)
    with actor.books.reading() as tx:
        latest = forecasts_kept.latest(tx, actor.circle_id)
        circle_of(actor, tx)
        places = PLACES.all(tx, actor.circle_id)
        wait = max(
            (one.not_before for one in FAULTS.all(tx, actor.circle_id) if one.not_before),
            default=None,
        )
    stale = [
        place
        for place in places
        if again or place.id not in latest or latest[place.id].expires_at <= now
    ]
    if not actor.house.forecasts.saved_file and wait is not None and wait > now and not again:
        return FetchResult(
            0, len(places) - len(stale), (_("The forecast service asked us to wait."),)
        )
    fetched = _ask(actor, stale, now)
    with actor.books.writing() as tx:
        for forecast in fetched.forecasts:
            forecasts_kept.add(tx, actor.circle_id, forecast)
        for fault in fetched.faults:
            _keep_fault(tx, actor, fault, now)
        forecasts_kept.forget(tx, actor.circle_id, now - KEPT_FOR)
    faults = tuple(fault.sentence for fault in fetched.faults)
    return FetchResult(len(fetched.forecasts), len(places) - len(stale), faults)


def _keep_fault(tx: Tx, actor: Actor, fault: Fault, now: datetime) -> None:
    FAULTS.add(
        tx,
        actor.circle_id,
        source=fault.source,
        what=fault.sentence,
        at=now,
        not_before=fault.not_before,
    )


def _ask(actor: Actor, places: Sequence[Place], now: datetime) -> Fetched:
    services = actor.house.forecasts
    if not places:
        return Fetched()
    if services.saved_file:
        return saved_file.fetch(places, now, path=Path(services.saved_file))
    fetched = Fetched()
    left = list(places)
    for name in services.order:
        if name != "open-meteo" or not left:
            continue
        asking = Asking(contact=services.contact)
        answer = open_meteo.fetch(left, now, base_url=services.open_meteo, asking=asking)
        fetched = fetched.joined(answer)
        done = {forecast.place_id for forecast in fetched.forecasts}
        left = [place for place in places if place.id not in done]
    return fetched
