"""The forecast service Open-Meteo: up to 50 places in one request, always in UTC."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts.base import STOPPING, AnswerError, Fault, Fetched
from exchange.forecasts.http import Asking, ask, json_of
from exchange.forecasts.open_meteo_format import HOURLY, forecast_of, split_answer
from exchange.forecasts.open_meteo_limits import check_status

SOURCE = "Open-Meteo"
BASE_URL = "https://api.open-meteo.com"
BATCH = 50
DAYS = 14


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
    parts = list(batches(places))
    for number, batch in enumerate(parts):
        try:
            fetched = fetched.joined(_fetch_batch(batch, now, base_url, asking or Asking()))
        except AnswerError as error:
            stops = error.kind in STOPPING
            left = parts[number:] if stops else [batch]
            ids = tuple(place.id for part in left for place in part)
            fetched = fetched.joined(Fetched(faults=(error.as_fault(SOURCE, ids, now),)))
            if stops:
                break
    return fetched


def batches(places: Sequence[Place], most: int = BATCH) -> Iterator[list[Place]]:
    """Split into requests; heights are asked for all places of a request or for none."""
    for group in (
        [place for place in places if place.height_m is not None],
        [place for place in places if place.height_m is None],
    ):
        for start in range(0, len(group), most):
            yield group[start : start + most]


def _fetch_batch(places: Sequence[Place], now: datetime, base_url: str, asking: Asking) -> Fetched:
    params = where(places) | {"hourly": ",".join(HOURLY), "forecast_days": str(DAYS)}
    answer = ask(f"{base_url}/v1/forecast", params, asking)
    check_status(answer, now)
    forecasts: list[Forecast] = []
    faults: list[Fault] = []
    for place, part in zip(places, split_answer(json_of(answer), len(places)), strict=True):
        try:
            forecasts.append(forecast_of(part, place, now, source=SOURCE))
        except AnswerError as error:
            faults.append(error.as_fault(SOURCE, (place.id,), now))
    return Fetched(tuple(forecasts), tuple(faults))


def where(places: Sequence[Place]) -> dict[str, str]:
    """Give the part of a request that says where, in UTC."""
    params = {
        "latitude": ",".join(f"{place.latitude:.3f}" for place in places),
        "longitude": ",".join(f"{place.longitude:.3f}" for place in places),
        "timezone": "GMT",
    }
    heights = [place.height_m for place in places if place.height_m is not None]
    if len(heights) == len(places):
        params["elevation"] = ",".join(f"{height:.0f}" for height in heights)
    return params
