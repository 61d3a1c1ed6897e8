"""The forecast service of MET Norway, by its terms of service.

One place per request; a User-Agent with a contact; never before the answer expires; afterwards
If-Modified-Since with the Last-Modified it gave; stop at once when told to.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime, parsedate_to_datetime

import requests

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import MET_NORWAY, Forecast
from exchange.forecasts.base import STOPPING, AnswerError, Fetched, ForecastFaultKind
from exchange.forecasts.batching import fetch_in_turn
from exchange.forecasts.hours import readings_of
from exchange.forecasts.http import LATER, SOON, Asking, ask, json_of, retry_after
from exchange.forecasts.met_norway_format import grid_km, height_of, hours_of_answer
from exchange.words.weather.weather import lack_sentence

SOURCE = MET_NORWAY
BASE_URL = "https://api.met.no"
ATTRIBUTION = "Based on data from MET Norway (NLOD 2.0, CC BY 4.0)."

_PATH = "/weatherapi/locationforecast/2.0/complete"
_FRESH_FOR = timedelta(minutes=30)


def fetch(
    places: Sequence[Place],
    now: datetime,
    *,
    base_url: str = BASE_URL,
    asking: Asking | None = None,
    known: Mapping[int, Forecast] | None = None,
) -> Fetched:
    """Fetch the forecasts of places, one request after the other.

    A place whose kept forecast of this service has not expired is not asked for. When the service
    throttles, refuses or does not answer, the places left stand in that one fault.

    Parameters
    ----------
    places : where
    now : instant of asking, UTC
    base_url : where the service answers
    asking : contact and time-out; the service refuses to answer without a contact
    known : the latest forecast kept for each place, by place id

    Returns
    -------
    fetched : a forecast, or a share in a fault, for every place
    """
    how = asking or Asking()
    if places and not how.contact:
        error, ids = AnswerError(ForecastFaultKind.NO_CONTACT), tuple(place.id for place in places)
        return Fetched(faults=(error.as_fault(SOURCE, ids, now),))

    def fetch_one(part: Sequence[Place]) -> Fetched:
        place = part[0]
        kept = _own((known or {}).get(place.id))
        if kept is not None and now < kept.expires_at:
            return Fetched((kept,))
        return Fetched((_fetch_place(place, now, base_url, how, kept),))

    return fetch_in_turn([[place] for place in places], fetch_one, SOURCE, now, STOPPING)


def _own(forecast: Forecast | None) -> Forecast | None:
    return forecast if forecast is not None and forecast.source == SOURCE else None


def _fetch_place(
    place: Place, now: datetime, base_url: str, asking: Asking, kept: Forecast | None
) -> Forecast:
    params = {"lat": f"{place.latitude:.3f}", "lon": f"{place.longitude:.3f}"}
    if place.height_m is not None:
        params["altitude"] = f"{place.height_m:.0f}"
    headers = {}
    if kept is not None:
        headers["If-Modified-Since"] = format_datetime(kept.issued_at.astimezone(UTC), usegmt=True)
    answer = ask(f"{base_url}{_PATH}", params, asking, headers)
    expires = _stamp(answer, "Expires") or now + _FRESH_FOR
    if answer.status_code == 304:
        return _kept_on(kept, now, expires)
    _check_status(answer, now)
    body = json_of(answer)
    apart = grid_km(body, place)
    hours, lacks = hours_of_answer(body)
    readings, more = readings_of(hours)
    if readings[-1].at < now or readings[0].at > now + timedelta(days=2):
        raise AnswerError(ForecastFaultKind.OUT_OF_DATE, wait=SOON)
    if answer.status_code == 203:
        lacks += ("old version",)
    return Forecast(
        place_id=place.id,
        source=SOURCE,
        issued_at=_stamp(answer, "Last-Modified") or now,
        fetched_at=now,
        expires_at=max(expires, now),
        attribution=ATTRIBUTION,
        readings=readings,
        grid_height_m=height_of(body),
        grid_km=round(apart, 1),
        lacks=(*(lack_sentence(lack) for lack in lacks), *more),
    )


def _kept_on(kept: Forecast | None, now: datetime, expires: datetime) -> Forecast:
    if kept is None:
        raise AnswerError(ForecastFaultKind.UNREADABLE, wait=SOON)
    return replace(kept, fetched_at=now, expires_at=max(expires, now))


def _stamp(answer: requests.Response, name: str) -> datetime | None:
    try:
        return parsedate_to_datetime(answer.headers[name]).astimezone(UTC)
    except (KeyError, ValueError, TypeError):
        return None


def _check_status(answer: requests.Response, now: datetime) -> None:
    status = answer.status_code
    if status in (200, 203):
        return
    if status == 429:
        raise AnswerError(ForecastFaultKind.LIMIT, wait=retry_after(answer, now) or LATER)
    if status in (404, 422):
        raise AnswerError(ForecastFaultKind.NOT_OFFERED)
    if status >= 500:
        raise AnswerError(ForecastFaultKind.OVERLOADED, wait=retry_after(answer, now) or SOON)
    raise AnswerError(ForecastFaultKind.REFUSED, wait=LATER)
