"""Forecasts out of a saved file of Open-Meteo's format, for work without a network."""

import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from exchange.domain.circle.earth import distance_km
from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts.base import AnswerError, Fetched, ForecastFault, ForecastFaultKind
from exchange.forecasts.open_meteo_format import first_hour, forecast_of

SOURCE = "saved file"


def fetch(places: Sequence[Place], now: datetime, *, path: Path) -> Fetched:
    """Read the forecasts of places from a file that holds one object or a list of them.

    Each place takes the object whose position is nearest, if that is near enough to be its own; the
    same object may serve several places. The file does not say when it was issued: the first hour
    in it stands for that.

    Parameters
    ----------
    places : where
    now : instant of reading, UTC
    path : of the file

    Returns
    -------
    fetched : a forecast, or a share in a fault, for every place
    """
    ids = tuple(place.id for place in places)
    try:
        parts = _parts(path)
    except AnswerError as error:
        return Fetched(faults=(error.as_fault(SOURCE, ids, now),))
    forecasts: list[Forecast] = []
    faults: list[ForecastFault] = []
    for place in places:
        try:
            part = _nearest(parts, place)
            issued = min(now, first_hour(part))
            forecasts.append(forecast_of(part, place, now, source=SOURCE, issued_at=issued))
        except AnswerError as error:
            faults.append(error.as_fault(SOURCE, (place.id,), now))
    return Fetched(tuple(forecasts), tuple(faults))


def _parts(path: Path) -> list[dict[str, Any]]:
    try:
        body = json.loads(path.read_text(encoding="utf-8"))
    except OSError:
        raise AnswerError(ForecastFaultKind.NO_FILE) from None
    except ValueError:
        raise AnswerError(ForecastFaultKind.UNREADABLE) from None
    parts = body if isinstance(body, list) else [body]
    usable = [part for part in parts if isinstance(part, dict)]
    if not usable:
        raise AnswerError(ForecastFaultKind.UNREADABLE)
    return usable


def _nearest(parts: Sequence[dict[str, Any]], place: Place) -> dict[str, Any]:
    def distance(part: dict[str, Any]) -> float:
        try:
            cell = (float(part["latitude"]), float(part["longitude"]))
        except (KeyError, TypeError, ValueError):
            return float("inf")
        return distance_km(cell, (place.latitude, place.longitude))

    return min(parts, key=distance)
