"""Past springs: nightly minima of several files on one axis of days, and what was usual in them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

BEFORE_MARCH, DAYS = 10, 116
"""The axis: from this many days before 1 March, this many nights [d]."""
READY = BEFORE_MARCH + 9
"""Place of 10 March on the axis, the first day on which a parcel may be ready."""
MOST_SPRINGS, FEWEST_SPRINGS = 30, 3
WINDOW = 10
"""Days to either side of a date over which the usual minimum and its spread are taken [d]."""


class NoSpringsError(ValueError):
    """The files have too few springs in common."""


@dataclass(frozen=True, slots=True)
class Springs:
    """Nightly minima of past springs.

    Attributes
    ----------
    names : of the files
    years : of the springs, in order
    weekdays : weekday of the first day of the axis in each spring, 0 = Monday
    lows : minimum of the night that begins on the day: the file's value of the day after
        (files, springs, nights) [degrees C]
    usual, spread : mean and standard deviation within 10 days of the date (files, nights) [degrees C]
    """

    names: tuple[str, ...]
    years: tuple[int, ...]
    weekdays: NDArray[np.int64]
    lows: Array
    usual: Array
    spread: Array

    def anomalies(self) -> Array:
        """Give the minima as standard departures from what is usual, shaped like `lows`."""
        found: Array = (self.lows - self.usual[:, None, :]) / self.spread[:, None, :]
        return found


def past_springs(series: Mapping[str, Mapping[date, float]]) -> Springs:
    """Take the last 30 springs that all files have without a gap.

    Parameters
    ----------
    series : name of the file -> day -> minimum [degrees C]

    Raises
    ------
    NoSpringsError
        when fewer than three springs are complete in all files
    """
    years = sorted({day.year for file in series.values() for day in file})
    whole = [year for year in years if all(_whole(file, year) for file in series.values())]
    if len(whole) < FEWEST_SPRINGS:
        raise NoSpringsError(
            f"Only {len(whole)} springs from late February to mid-June are complete in all files; "
            f"at least {FEWEST_SPRINGS} are needed."
        )
    kept = whole[-MOST_SPRINGS:]
    lows = np.array([[_minima(file, year) for year in kept] for file in series.values()])
    usual, spread = _climate(lows)
    weekdays = np.array([_first(year).weekday() for year in kept])
    return Springs(tuple(series), tuple(kept), weekdays, lows, usual, spread)


def _first(year: int) -> date:
    return date(year, 3, 1) - timedelta(days=BEFORE_MARCH)


def _nights(year: int) -> Sequence[date]:
    return [_first(year) + timedelta(days=n + 1) for n in range(DAYS)]


def _whole(file: Mapping[date, float], year: int) -> bool:
    return all(day in file for day in _nights(year))


def _minima(file: Mapping[date, float], year: int) -> list[float]:
    return [file[day] for day in _nights(year)]


def _climate(lows: Array) -> tuple[Array, Array]:
    usual, spread = np.empty(lows[:, 0].shape), np.empty(lows[:, 0].shape)
    for night in range(lows.shape[2]):
        near = lows[:, :, max(0, night - WINDOW) : night + WINDOW + 1]
        usual[:, night] = near.mean(axis=(1, 2))
        spread[:, night] = near.std(axis=(1, 2))
    return usual, spread
