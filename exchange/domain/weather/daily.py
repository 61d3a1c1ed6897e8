"""Climate out of a circle's own daily file."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import fmean, pstdev

from exchange.domain.weather.climate import Climate, by_day_of_year

FEWEST_YEARS = 5
"""Years a month must have before a daily file tells what is usual (judgement)."""

DAY_SWING_K = 8.0
"""From the usual minimum to the usual high where a file has no highs (judgement)."""

_FEWEST_DAYS_A_MONTH = 20


@dataclass(frozen=True, slots=True)
class DayRead:
    """One line of a daily file.

    Attributes
    ----------
    minimum_c : of the night that ends on the day [degrees C]
    maximum_c : of the day, None where the file has none [degrees C]
    """

    day: date
    minimum_c: float
    maximum_c: float | None = None


class TooShortError(Exception):
    """A daily file holds too few years to say what is usual."""


def climate_of_days(days: Sequence[DayRead], name: str) -> Climate:
    """Give the climate a daily file tells.

    The spread is that of single minima about the smooth daily course, month by month. A month of a
    year counts with at least twenty days.

    Parameters
    ----------
    days : in any order
    name : how the file is called

    Raises
    ------
    TooShortError
        when any month has fewer than five years
    """
    by_month = _by_month(days)
    if any(len(years) < FEWEST_YEARS for years in by_month):
        raise TooShortError(
            f"A daily file needs at least {FEWEST_YEARS} years of every month to say what is usual."
        )
    minimum = tuple(_mean_minimum(years) for years in by_month)
    maximum = tuple(_mean_maximum(years, low) for years, low in zip(by_month, minimum, strict=True))
    course = by_day_of_year(minimum)
    spread = tuple(
        pstdev(
            read.minimum_c - course[read.day.timetuple().tm_yday - 1]
            for reads in years.values()
            for read in reads
        )
        for years in by_month
    )
    any_frost = tuple(
        fmean(any(read.minimum_c < 0.0 for read in reads) for reads in years.values())
        for years in by_month
    )
    every_year = sorted({year for years in by_month for year in years})
    return Climate(
        name=name,
        minimum_c=minimum,
        maximum_c=maximum,
        spread_k=spread,
        base_period=f"{every_year[0]}-{every_year[-1]}",
        any_frost=any_frost,
        years=min(len(years) for years in by_month),
    )


def _by_month(days: Sequence[DayRead]) -> list[dict[int, list[DayRead]]]:
    months: list[dict[int, list[DayRead]]] = [{} for _month in range(12)]
    for read in days:
        months[read.day.month - 1].setdefault(read.day.year, []).append(read)
    return [
        {year: reads for year, reads in years.items() if len(reads) >= _FEWEST_DAYS_A_MONTH}
        for years in months
    ]


def _mean_minimum(years: dict[int, list[DayRead]]) -> float:
    return fmean(read.minimum_c for reads in years.values() for read in reads)


def _mean_maximum(years: dict[int, list[DayRead]], minimum: float) -> float:
    highs = [
        read.maximum_c for reads in years.values() for read in reads if read.maximum_c is not None
    ]
    return fmean(highs) if highs else minimum + DAY_SWING_K
