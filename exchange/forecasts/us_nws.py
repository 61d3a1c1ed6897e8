"""The forecast grid of the United States National Weather Service, for places in that country."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

import requests

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import US_NWS, Forecast
from exchange.forecasts.base import STOPPING, AnswerError, Fetched, ForecastFaultKind
from exchange.forecasts.batching import fetch_in_turn
from exchange.forecasts.http import LATER, SOON, Asking, ask, json_of
from exchange.forecasts.us_nws_format import forecast_of, grid_path

SOURCE = US_NWS
BASE_URL = "https://api.weather.gov"
COUNTRY = "US"

_TRY_AGAIN_AFTER = timedelta(seconds=30)


def fetch(
    places: Sequence[Place],
    now: datetime,
    *,
    base_url: str = BASE_URL,
    asking: Asking | None = None,
) -> Fetched:
    """Fetch the forecasts of places in the United States, one after the other.

    First the grid square of the place, then its grid. Places elsewhere stand in a fault.

    Parameters
    ----------
    places : where
    now : instant of asking, UTC
    base_url : where the service answers
    asking : contact and time-out; the service refuses to answer without a contact

    Returns
    -------
    fetched : a forecast, or a share in a fault, for every place
    """

    def fetch_one(part: Sequence[Place]) -> Fetched:
        return Fetched((_fetch_place(part[0], now, base_url, asking),))

    return fetch_in_turn([[place] for place in places], fetch_one, SOURCE, now, STOPPING)


def _fetch_place(place: Place, now: datetime, base_url: str, asking: Asking | None) -> Forecast:
    if place.country != COUNTRY:
        raise AnswerError(ForecastFaultKind.NOT_OFFERED)
    how = asking or Asking()
    if not how.contact:
        raise AnswerError(ForecastFaultKind.NO_CONTACT)
    point = f"{base_url}/points/{place.latitude:.3f},{place.longitude:.3f}"
    square = _body(ask(point, {}, how))
    grid = _body(ask(f"{base_url}{grid_path(square)}", {}, how))
    return forecast_of(grid, place, now)


def _body(answer: requests.Response) -> Mapping[str, Any]:
    """Give the body of an answer that is a success.

    Raises
    ------
    AnswerError
        for any other, with the detail the service gave
    """
    status = answer.status_code
    if status == 404:
        raise AnswerError(ForecastFaultKind.NOT_OFFERED, _detail(answer))
    if status == 429:
        raise AnswerError(ForecastFaultKind.LIMIT, _detail(answer), SOON)
    if status >= 500:
        raise AnswerError(ForecastFaultKind.OVERLOADED, _detail(answer), _TRY_AGAIN_AFTER)
    if not answer.ok:
        raise AnswerError(ForecastFaultKind.REFUSED, _detail(answer), LATER)
    body = json_of(answer)
    if not isinstance(body, dict):
        raise AnswerError(ForecastFaultKind.UNREADABLE, wait=SOON)
    return body


def _detail(answer: requests.Response) -> str:
    try:
        body = json_of(answer)
    except AnswerError:
        return ""
    detail = body.get("detail") if isinstance(body, dict) else None
    return detail[:200] if isinstance(detail, str) else ""
