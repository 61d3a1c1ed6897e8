"""The ensembles of Open-Meteo: many forecasts of the same nights, each with its own minimum."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast, Reading
from exchange.forecasts.base import AnswerError, Fetched, ForecastFaultKind
from exchange.forecasts.hours import Column, Hours, readings_of
from exchange.forecasts.http import Asking
from exchange.forecasts.open_meteo import ForecastRequest, fetch_wanted
from exchange.forecasts.open_meteo_format import (
    CELSIUS,
    UNKNOWN_UNITS,
    column,
    forecast_of,
    times_of,
)
from exchange.words.weather.weather import lack_sentence

SOURCE = "Open-Meteo ensemble"
BASE_URL = "https://ensemble-api.open-meteo.com"
MODEL = "icon_seamless_eps"
DAYS = 7
BATCH = 10

_NOT_ASKED = frozenset(lack_sentence(kind) for kind in ("dew point", "wind", "cloud"))
_MEMBER = re.compile(r"temperature_2m(?:_member(\d\d))?(?:_([a-z0-9_]+))?")


def fetch(
    places: Sequence[Place],
    now: datetime,
    *,
    base_url: str = BASE_URL,
    asking: Asking | None = None,
) -> Fetched:
    """Fetch the ensembles of places, one request after the other, ten places at most in each.

    Readings of the control run carry member 0; the first run with figures stands for the plain forecast
    too. Members of several models are numbered on. One without figures is left out and counted.

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
        return ensemble_of(part, place, now)

    params = {"hourly": "temperature_2m", "models": MODEL}
    wanted = ForecastRequest(f"{base_url}/v1/ensemble", params, DAYS, BATCH, SOURCE)
    return fetch_wanted(wanted, places, now, asking or Asking(), read)


def ensemble_of(part: Mapping[str, Any], place: Place, now: datetime) -> Forecast:
    """Read the ensemble of one place.

    Raises
    ------
    AnswerError
        when it is for another place, of other days, in other units, or has no members
    """
    runs = _runs(part)
    times = tuple(times_of(part))
    read = [_readings(run, times, number) for number, run in enumerate(runs)]
    first = next((run for run, readings in zip(runs, read, strict=True) if readings), None)
    if first is None:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    hourly = {**part["hourly"], "temperature_2m": first}
    units = {**part["hourly_units"], "temperature_2m": CELSIUS}
    plain = forecast_of(
        {**part, "hourly": hourly, "hourly_units": units}, place, now, source=SOURCE
    )
    told = [lack for lack in plain.lacks if lack not in _NOT_ASKED]
    told += [lack_sentence(kind) for kind in _lacks(read)]
    readings = (*plain.readings, *(one for member in read for one in member))
    return replace(plain, readings=readings, lacks=tuple(told), members=len(runs))


def _readings(run: Column, times: tuple[datetime, ...], number: int) -> tuple[Reading, ...]:
    """Give the readings of a member; none where it has no figures, so that the others stand."""
    try:
        return readings_of(Hours(times, run), member=number)[0]
    except AnswerError:
        return ()


def _lacks(read: Sequence[Sequence[Reading]]) -> tuple[str, ...]:
    most = max(len(member) for member in read)
    found = (
        ("members", any(not member for member in read)),
        ("member hours", any(0 < len(member) < most for member in read)),
    )
    return tuple(kind for kind, is_so in found if is_so)


def _runs(part: Mapping[str, Any]) -> list[Column]:
    """Give the column of each run, the control first, in a fixed order; empty where it is not there.

    Raises
    ------
    AnswerError
        when one with a known unit is not in degrees Celsius, or there are no columns at all
    """
    hourly, units = part.get("hourly"), part.get("hourly_units")
    if not isinstance(hourly, dict) or not isinstance(units, dict):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    count = len(times_of(part))
    named: dict[tuple[int, str], Column] = {}
    for name in hourly:
        found = _MEMBER.fullmatch(name)
        if found is None:
            continue
        unit = units.get(name)
        if unit not in (CELSIUS, *UNKNOWN_UNITS):
            raise AnswerError(ForecastFaultKind.WRONG_UNITS)
        values = column(hourly, name, count) if unit == CELSIUS else None
        named[int(found.group(1) or 0), found.group(2) or ""] = values or []
    return [named[key] for key in sorted(named)]
