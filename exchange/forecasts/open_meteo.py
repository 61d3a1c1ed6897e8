"""The forecast service Open-Meteo: up to 50 places in one request, always in UTC."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta

import requests

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts.base import AnswerError, Fault, FaultKind, Fetched
from exchange.forecasts.http import LATER, SOON, Asking, ask, json_of
from exchange.forecasts.open_meteo_format import HOURLY, forecast_of, split_answer

SOURCE = "Open-Meteo"
BASE_URL = "https://api.open-meteo.com"
BATCH = 50
DAYS = 14

_UNAVAILABLE = 503
_TOO_MANY = 429
_BAD = 400
_LONGEST_SAID = 200


def fetch(
    places: Sequence[Place],
    now: datetime,
    *,
    base_url: str = BASE_URL,
    asking: Asking | None = None,
) -> Fetched:
    """Fetch the forecasts of places, one request after the other.

    The night minima are worked out here, in each place's own zone, so every request asks for UTC.
    A place whose height is known is forecast at that height. When the service says that it has been
    asked too often, the places left are not asked for and stand in the fault.

    Parameters
    ----------
    places : where
    now : instant of asking, UTC
    base_url : where the service answers
    asking : contact and time-out

    Returns
    -------
    fetched : a forecast, or a share in a fault, for every place
    """
    fetched = Fetched()
    batches = list(_batches(places))
    for number, batch in enumerate(batches):
        try:
            fetched = fetched.joined(_fetch_batch(batch, now, base_url, asking or Asking()))
        except AnswerError as error:
            stops = error.kind in (FaultKind.LIMIT, FaultKind.UNREACHABLE, FaultKind.TOO_SLOW)
            left = batches[number:] if stops else [batch]
            ids = tuple(place.id for part in left for place in part)
            fetched = fetched.joined(Fetched(faults=(error.as_fault(SOURCE, ids, now),)))
            if stops:
                break
    return fetched


def back_off(reason: str, now: datetime) -> datetime:
    """Give the instant until which to wait, read from the reason the service gives.

    Parameters
    ----------
    reason : text of the error body
    now : UTC
    """
    said = reason.casefold()
    if "minutely" in said:
        return now + timedelta(minutes=1)
    if "hourly" in said:
        return (now + timedelta(hours=1)).replace(minute=0, second=0, microsecond=0)
    if "daily" in said:
        midnight = now.astimezone(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
        return midnight + timedelta(days=1)
    if "concurrent" in said:
        return now + timedelta(seconds=10)
    return now + SOON


def _batches(places: Sequence[Place]) -> Iterator[list[Place]]:
    """Split into requests; heights are asked for all places of a request or for none."""
    for group in (
        [place for place in places if place.height_m is not None],
        [place for place in places if place.height_m is None],
    ):
        for start in range(0, len(group), BATCH):
            yield group[start : start + BATCH]


def _fetch_batch(places: Sequence[Place], now: datetime, base_url: str, asking: Asking) -> Fetched:
    answer = ask(f"{base_url}/v1/forecast", _params(places), asking)
    _check_status(answer, now)
    forecasts: list[Forecast] = []
    faults: list[Fault] = []
    for place, part in zip(places, split_answer(json_of(answer), len(places)), strict=True):
        try:
            forecasts.append(forecast_of(part, place, now, source=SOURCE))
        except AnswerError as error:
            faults.append(error.as_fault(SOURCE, (place.id,), now))
    return Fetched(tuple(forecasts), tuple(faults))


def _params(places: Sequence[Place]) -> dict[str, str]:
    params = {
        "latitude": ",".join(f"{place.latitude:.3f}" for place in places),
        "longitude": ",".join(f"{place.longitude:.3f}" for place in places),
        "hourly": ",".join(HOURLY),
        "timezone": "GMT",
        "forecast_days": str(DAYS),
    }
    heights = [place.height_m for place in places if place.height_m is not None]
    if len(heights) == len(places):
        params["elevation"] = ",".join(f"{height:.0f}" for height in heights)
    return params


def _check_status(answer: requests.Response, now: datetime) -> None:
    if answer.ok:
        return
    said = _reason(answer)
    if answer.status_code == _TOO_MANY:
        raise AnswerError(FaultKind.LIMIT, said, back_off(said, now))
    if answer.status_code == _UNAVAILABLE or answer.status_code >= 500:
        raise AnswerError(FaultKind.OVERLOADED, said, timedelta(minutes=5))
    if answer.status_code == _BAD and "no data is available" in said.casefold():
        raise AnswerError(FaultKind.NOT_OFFERED, said, LATER)
    raise AnswerError(FaultKind.REFUSED, said, LATER)


def _reason(answer: requests.Response) -> str:
    """Give the reason in an error body; a page or broken text gives none."""
    try:
        body = json_of(answer)
    except AnswerError:
        return ""
    reason = body.get("reason") if isinstance(body, dict) else None
    return reason[:_LONGEST_SAID] if isinstance(reason, str) else ""
