"""Past springs: nightly minima of several files on one axis of days, and what was usual in them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

BEFORE_MARCH, DAYS = 10, 134
"""The axis: from this many days before 1 March, this many nights [d]."""
READY = BEFORE_MARCH + 10
"""Place of 11 March on the axis, the first day after the closed season, on which a parcel may be ready."""
READY_WITHIN, MOST_WAIT, KNOWN_BEFORE = 50, 28, 1
"""Parcels become ready within so many days, wait so many before they go anyway, and are planned from so many
days before they are ready [d]."""
MOST_SPRINGS, FEWEST_SPRINGS, PAIRS = 30, 3, 6
"""Springs taken and needed; where fewer pairs of files send, each spring is told by more forecasts."""
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
    years : of the springs, in order; again for each forecast by which they are told
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


def past_springs(series: Mapping[str, Mapping[date, float]]) -> Springs:
    """Take the last 30 springs that all files have without a gap, several times where there are few pairs.

    Parameters
    ----------
    series : name of the file -> day -> minimum [degrees C]

    Raises
    ------
    NoSpringsError
        when fewer than three springs are complete in all files
    """
    files = list(series.values())
    mornings = {
        year: [date(year, 3, 1) + timedelta(days=n + 1 - BEFORE_MARCH) for n in range(DAYS)]
        for year in sorted({day.year for day in files[0]})
    }
    whole = [
        year
        for year, days in mornings.items()
        if all(day in file for file in files for day in days)
    ]
    if len(whole) < FEWEST_SPRINGS:
        raise NoSpringsError(
            f"Only {len(whole)} springs from late February to early July are complete in all files; "
            f"at least {FEWEST_SPRINGS} are needed."
        )
    years = whole[-MOST_SPRINGS:] * max(1, PAIRS // max(1, len(files) * (len(files) - 1)))
    lows = np.array([[[file[day] for day in mornings[year]] for year in years] for file in files])
    near = [lows[:, :, max(0, night - WINDOW) : night + WINDOW + 1] for night in range(DAYS)]
    usual = np.stack([each.mean(axis=(1, 2)) for each in near], axis=1)
    spread = np.stack([each.std(axis=(1, 2)) for each in near], axis=1)
    weekdays = np.array([mornings[year][0].weekday() - 1 for year in years]) % 7
    return Springs(tuple(series), tuple(years), weekdays, lows, usual, spread)
