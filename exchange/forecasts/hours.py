"""Columns of hours made into readings: in order, each hour once, nothing beyond belief."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from exchange.domain.weather.forecast import Reading
from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.words.weather.weather import lack_sentence

Column = list[float | None]

BELIEVABLE_C = (-60.0, 50.0)
"""Temperatures outside are left out: beyond the records of every country served (judgement)."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Columns as a service gives them.

    Attributes
    ----------
    times : instants, UTC, shape (n,)
    temperature, dew_point, wind, cloud : shape (n,), None where a figure is missing
        [degrees C, degrees C, m/s, %]
    """

    times: tuple[datetime, ...]
    temperature: Column
    dew_point: Column | None = None
    wind: Column | None = None
    cloud: Column | None = None


def readings_of(
    hours: Hours, member: int | None = None
) -> tuple[tuple[Reading, ...], tuple[str, ...]]:
    """Give the readings in order of time, and what was wrong with the columns, as sentences.

    Hours without a temperature are dropped. Where an hour is given twice, the colder figure stays.

    Raises
    ------
    AnswerError
        when no temperature is left
    """
    lacks: list[str] = []
    if hours.temperature and hours.temperature[0] is None:
        lacks.append("late")
    if hours.temperature and hours.temperature[-1] is None:
        lacks.append("short")
    there = [r for r in _all(hours, member) if r is not None]
    believable = [r for r in there if BELIEVABLE_C[0] <= r.temperature_c <= BELIEVABLE_C[1]]
    if len(believable) < len(there):
        lacks.append("unlikely")
    if not believable:
        raise AnswerError(ForecastFaultKind.INCOMPLETE)
    if any(later.at < earlier.at for earlier, later in pairwise(believable)):
        lacks.append("order")
    once: dict[datetime, Reading] = {}
    for reading in believable:
        held = once.get(reading.at)
        if held is None or reading.temperature_c < held.temperature_c:
            once[reading.at] = reading
    if len(once) < len(believable):
        lacks.append("twice")
    ordered = tuple(once[at] for at in sorted(once))
    if any(b.at - a.at > timedelta(hours=1) for a, b in pairwise(ordered)):
        lacks.append("holes")
    return ordered, tuple(lack_sentence(lack) for lack in lacks)


def _all(hours: Hours, member: int | None) -> list[Reading | None]:
    return [
        None if temperature is None else _reading(hours, index, temperature, member)
        for index, temperature in enumerate(hours.temperature)
    ]


def _reading(hours: Hours, index: int, temperature: float, member: int | None) -> Reading:
    return Reading(
        at=hours.times[index],
        temperature_c=temperature,
        dew_point_c=_at(hours.dew_point, index),
        wind_ms=_at(hours.wind, index),
        cloud_pct=_at(hours.cloud, index),
        member=member,
    )


def _at(column: Column | None, index: int) -> float | None:
    return None if column is None else column[index]
