"""The ensembles of Open-Meteo: many forecasts of the same nights, each with its own minimum."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast, Reading
from exchange.forecasts.base import AnswerError, Fetched, ForecastFaultKind
from exchange.forecasts.hours import Hours, readings_of
from exchange.forecasts.http import Asking
from exchange.forecasts.open_meteo import ForecastRequest, fetch_wanted
from exchange.forecasts.open_meteo_format import column, forecast_of, times_of
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

    Readings of the control run carry member 0 and stand for the plain forecast too; members of
    several models are numbered on.

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
    if not runs:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    control = {**part["hourly"], "temperature_2m": runs[0][1]}
    units = {**part.get("hourly_units", {}), "temperature_2m": runs[0][0]}
    plain = forecast_of(
        {**part, "hourly": control, "hourly_units": units}, place, now, source=SOURCE
    )
    times = tuple(times_of(part))
    readings: list[Reading] = list(plain.readings)
    for number, (unit, values) in enumerate(runs):
        if unit != "°C":
            raise AnswerError(ForecastFaultKind.WRONG_UNITS)
        try:
            members, _lacks = readings_of(Hours(times, values), member=number)
        except AnswerError:
            continue  # a member without figures is left out, the others stand
        readings.extend(members)
    lacks = tuple(lack for lack in plain.lacks if lack not in _NOT_ASKED)
    return replace(plain, readings=tuple(readings), lacks=lacks)


def _runs(part: Mapping[str, Any]) -> list[tuple[str, list[float | None]]]:
    """Give unit and column of each run, the control first, in a fixed order."""
    hourly, units = part.get("hourly"), part.get("hourly_units")
    if not isinstance(hourly, dict) or not isinstance(units, dict):
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    count = len(times_of(part))
    named = []
    for name in hourly:
        found = _MEMBER.fullmatch(name)
        if found is None:
            continue
        values = column(hourly, name, count)
        if values is not None:
            key = (int(found.group(1) or 0), found.group(2) or "")
            named.append((key, str(units.get(name)), values))
    return [(unit, values) for _key, unit, values in sorted(named, key=lambda run: run[0])]
