"""Daily files a circle brings: a CSV with a date and the minimum, and the high if it has one."""

import csv
from datetime import date
from pathlib import Path

from exchange.domain.weather.daily import DayRead

_DATES = ("date", "day")
_MINIMA = ("tmin_c", "tmin", "minimum_c")
_MAXIMA = ("tmax_c", "tmax", "maximum_c")


class DailyFileError(Exception):
    """A daily file that cannot be read, with what is wrong in it."""


def read_daily(path: Path) -> tuple[DayRead, ...]:
    """Read a daily file; days without a minimum are left out.

    Parameters
    ----------
    path : of a CSV with the columns date (YYYY-MM-DD) and tmin_c, and tmax_c if there is one

    Raises
    ------
    DailyFileError
        when it cannot be opened, lacks a column or holds a line that cannot be read
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file))
    except (OSError, UnicodeDecodeError):
        raise DailyFileError(f"{path.name} could not be opened.") from None
    if not rows:
        raise DailyFileError(f"{path.name} is empty.")
    columns = [name for name in rows[0] if name is not None]
    day = _column(columns, _DATES)
    minimum = _column(columns, _MINIMA)
    if day is None or minimum is None:
        raise DailyFileError(f"{path.name} needs the columns date and tmin_c.")
    maximum = _column(columns, _MAXIMA)
    reads = []
    for number, row in enumerate(rows, start=2):
        try:
            reads.append(_read(row, day, minimum, maximum))
        except (AttributeError, ValueError):
            raise DailyFileError(f"Line {number} of {path.name} cannot be read.") from None
    return tuple(read for read in reads if read is not None)


def _read(row: dict[str, str], day: str, minimum: str, maximum: str | None) -> DayRead | None:
    if not row[minimum].strip():
        return None
    high = row[maximum].strip() if maximum else ""
    return DayRead(
        day=date.fromisoformat(row[day].strip()),
        minimum_c=float(row[minimum]),
        maximum_c=float(high) if high else None,
    )


def _column(columns: list[str], names: tuple[str, ...]) -> str | None:
    return next((c for c in columns if c.strip().casefold() in names), None)
