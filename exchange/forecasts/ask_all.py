"""The sources asked one after the other, until every place has a forecast."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts import (
    met_norway,
    open_meteo,
    open_meteo_ensemble,
    saved_file,
    us_nws,
)
from exchange.forecasts.base import Fetched
from exchange.forecasts.http import Asking
from exchange.forecasts.services import ForecastServices

SOURCES = {
    "open-meteo": open_meteo.SOURCE,
    "open-meteo-ensemble": open_meteo_ensemble.SOURCE,
    "met-norway": met_norway.SOURCE,
    "us-nws": us_nws.SOURCE,
}
"""The services by the names the settings call them, and as their forecasts and faults name them."""

NAMES = tuple(SOURCES)


class UnknownServiceError(Exception):
    """The settings name a forecast service that is not known."""


def fetch(
    services: ForecastServices,
    places: Sequence[Place],
    now: datetime,
    *,
    known: Mapping[int, Forecast] | None = None,
) -> Fetched:
    """Fetch a forecast for every place, from the first source that has one.

    A saved file, where one is set, stands for all services. The second service is asked only for
    the places the first had nothing for, and so on; every fault on the way is kept.

    Parameters
    ----------
    services : which, in what order, and where
    places : where
    now : instant of asking, UTC
    known : the latest forecast kept for each place, by place id

    Raises
    ------
    UnknownServiceError
        when the order names a service that is not known
    """
    if services.saved_file:
        return saved_file.fetch(places, now, path=Path(services.saved_file))
    asking = Asking(contact=services.contact)
    sources = {
        "open-meteo": partial(open_meteo.fetch, base_url=services.open_meteo),
        "open-meteo-ensemble": partial(
            open_meteo_ensemble.fetch, base_url=services.open_meteo_ensemble
        ),
        "met-norway": partial(met_norway.fetch, base_url=services.met_norway, known=known),
        "us-nws": partial(us_nws.fetch, base_url=services.us_nws),
    }
    fetched = Fetched()
    for name in services.order:
        if name not in sources:
            raise UnknownServiceError(f"There is no forecast service called {name}.")
        done = {forecast.place_id for forecast in fetched.forecasts}
        left = [place for place in places if place.id not in done and _serves(name, place)]
        if left:
            fetched = fetched.joined(sources[name](left, now, asking=asking))
    return fetched


def _serves(name: str, place: Place) -> bool:
    """Say whether to ask a service for a place; the American one knows American places only."""
    return name != "us-nws" or place.country == us_nws.COUNTRY
