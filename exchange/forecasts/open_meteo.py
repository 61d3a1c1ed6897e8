"""The forecast service Open-Meteo: up to 50 places in one request, always in UTC."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts.base import Fetched
from exchange.forecasts.batching import batches, fetch_in_turn, read_each
from exchange.forecasts.http import Asking, ask, json_of
from exchange.forecasts.open_meteo_format import HOURLY, forecast_of, split_answer
from exchange.forecasts.open_meteo_limits import check_status

SOURCE = "Open-Meteo"
BASE_URL = "https://api.open-meteo.com"
BATCH = 50
DAYS = 15
"""Asked ahead, so that the night in which the forecast ends lies beyond the 14 days it is used for."""


def fetch(
    places: Sequence[Place],
    now: datetime,
    *,
    base_url: str = BASE_URL,
    asking: Asking | None = None,
) -> Fetched:
    """Fetch the forecasts of places, one request after the other.

    The night minima are worked out here, in each place's own zone, so every request asks for UTC;
    yesterday is asked for too, so that the night under way is whole. A place whose height is known
    is forecast at that height. When the service says that it has been
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

    def read(part: Mapping[str, Any], place: Place) -> Forecast:
        return forecast_of(part, place, now, source=SOURCE)

    wanted = ForecastRequest(
        f"{base_url}/v1/forecast", {"hourly": ",".join(HOURLY)}, DAYS, BATCH, SOURCE
    )
    return fetch_wanted(wanted, places, now, asking or Asking(), read)


@dataclass(frozen=True, slots=True)
class ForecastRequest:
    """What is asked of one of the service's addresses.

    Attributes
    ----------
    params : beside where and when
    days : ahead [d]
    batch : most places in one request [places]
    """

    url: str
    params: Mapping[str, str]
    days: int
    batch: int
    source: str


def fetch_wanted(
    wanted: ForecastRequest,
    places: Sequence[Place],
    now: datetime,
    asking: Asking,
    read: Callable[[Mapping[str, Any], Place], Forecast],
) -> Fetched:
    """Ask for places in turn, from yesterday on, so that the night under way is whole.

    Parameters
    ----------
    read : gives the forecast of one place from its part of the answer
    """

    def fetch_part(part: Sequence[Place]) -> Fetched:
        params = where(part) | {
            **wanted.params,
            "past_days": "1",
            "forecast_days": str(wanted.days),
        }
        answer = ask(wanted.url, params, asking)
        check_status(answer, now)
        return read_each(part, split_answer(json_of(answer), len(part)), read, wanted.source, now)

    return fetch_in_turn(list(batches(places, wanted.batch)), fetch_part, wanted.source, now)


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
