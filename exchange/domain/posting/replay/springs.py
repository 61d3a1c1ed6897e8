"""Past springs: nightly minima of several files on one axis of days, and what was usual in them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

BEFORE_MARCH, DAYS = 10, 134
"""The axis: from this many days before 1 March, this many nights [d]."""
READY = BEFORE_MARCH + 10
"""Place of 11 March on the axis, the first day after the closed season, on which a parcel may be ready."""
READY_WITHIN, MOST_WAIT, KNOWN_BEFORE = 50, 28, 1
"""Parcels become ready within so many days, wait so many before they go anyway, and are planned from so many
days before they are ready [d]."""
MOST_SPRINGS, FEWEST_SPRINGS, TOLD = 30, 3, 6
"""Springs taken and needed, and forecasts by which each is told at least."""
WINDOW = 10
"""Days to either side of a date over which the usual minimum and its spread are taken [d]."""


class NoSpringsError(ValueError):
    """The files have too few springs in common."""


@dataclass(frozen=True, slots=True)
class Springs:
    """Nightly minima at two ends over past springs; a spring comes again for each forecast that tells it.

    Attributes
    ----------
    names : of the files
    years, weekdays : of the springs; the weekday is that of the first day of the axis, 0 = Monday
    ends : the files at the two ends (2, springs)
    lows : minimum of the night that begins on the day: the file's value of the day after
        (2, springs, nights) [degrees C]
    usual, spread : mean and standard deviation within 10 days of the date (2, springs, nights) [degrees C]
    """

    names: tuple[str, ...]
    years: tuple[int, ...]
    weekdays: Whole
    ends: Whole
    lows: Array
    usual: Array
    spread: Array


def past_springs(series: Mapping[str, Mapping[date, float]]) -> Springs:
    """Take the last 30 springs that all files have without a gap, each as often with every two files.

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
    kept = whole[-MOST_SPRINGS:]
    lows = np.array([[[file[day] for day in mornings[year]] for year in kept] for file in files])
    near = [lows[:, :, max(0, night - WINDOW) : night + WINDOW + 1] for night in range(DAYS)]
    usual = np.stack([each.mean(axis=(1, 2)) for each in near], axis=1)
    spread = np.stack([each.std(axis=(1, 2)) for each in near], axis=1)
    pairs = list(combinations(range(len(files)), 2)) or [(0, 0)]
    pairs *= -(-TOLD // len(pairs))
    ends, spring = np.repeat(pairs, len(kept), axis=0).T, np.tile(np.arange(len(kept)), len(pairs))
    years = np.array(kept)[spring]
    weekdays = np.array([mornings[year][0].weekday() - 1 for year in years]) % 7
    at_ends = lows[ends, spring], usual[ends], spread[ends]
    return Springs(tuple(series), tuple(years.tolist()), weekdays, ends, *at_ends)
