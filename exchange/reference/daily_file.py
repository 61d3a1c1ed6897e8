"""Daily files a circle brings: a CSV with a date and the minimum, and the high if it has one."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from exchange.domain.weather.daily import DayRead

BELIEVABLE_C = (-60.0, 60.0)
"""A figure outside is a mistake or a mark for "missing" (judgement) [degrees C]."""

MOST_LINES = 45_000
"""Over a hundred and twenty years, so that nobody waits long on a wrong file [lines]."""

_DATES = ("date", "day")
_MINIMA = ("tmin_c", "tmin", "minimum_c")
_MAXIMA = ("tmax_c", "tmax", "maximum_c")


class DailyFileError(Exception):
    """A daily file that cannot be read, with what is wrong in it."""


@dataclass(frozen=True, slots=True)
class LineFault:
    """A line that cannot be read, by its number in the file."""

    line: int
    sentence: str


@dataclass(frozen=True, slots=True)
class DailyRead:
    """What a daily file holds.

    Attributes
    ----------
    days : in the order of the file
    empty : lines without a minimum, which are left out
    faults : lines that cannot be read
    """

    days: tuple[DayRead, ...]
    empty: int
    faults: tuple[LineFault, ...]


@dataclass(frozen=True, slots=True)
class _Columns:
    day: str
    minimum: str
    maximum: str | None


def read_content(content: bytes, name: str) -> DailyRead:
    """Read the content of a daily file, line by line.

    Semicolons between the columns are read too, with decimal commas; of a day that stands twice the
    second is a fault.

    Raises
    ------
    DailyFileError
        when it is no text, is empty, lacks a column or has too many lines
    """
    rows = _rows(content, name)
    _first, heads = next(rows, (0, []))
    if not heads:
        raise DailyFileError(f"{name} is empty.")
    columns = _columns([head for head in heads if head], name)
    days: dict[date, DayRead] = {}
    faults: list[LineFault] = []
    empty = 0
    for number, cells in rows:
        if number > MOST_LINES:
            raise DailyFileError(f"{name} has more than {MOST_LINES} lines.")
        row = dict(zip(heads, cells, strict=False))
        try:
            read = _read(row, columns)
        except ValueError as error:
            faults.append(LineFault(number, str(error)))
            continue
        if read is None:
            empty += 1
        elif read.day in days:
            faults.append(LineFault(number, f"{read.day} stands in the file already."))
        else:
            days[read.day] = read
    if not days and not faults:
        raise DailyFileError(f"{name} is empty.")
    return DailyRead(tuple(days.values()), empty, tuple(faults))


def _rows(content: bytes, name: str) -> Iterator[tuple[int, list[str]]]:
    """Give each line that is not blank with its number."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise DailyFileError(f"{name} could not be opened.") from None
    head = text.partition("\n")[0]
    between = ";" if ";" in head and "," not in head else ","
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=between)
    try:
        for row in rows:
            if any(cell.strip() for cell in row):
                cells = [cell.replace(",", ".") for cell in row] if between == ";" else row
                yield rows.line_num, cells
    except csv.Error:
        raise DailyFileError(f"{name} is no table with a comma between its columns.") from None


def _columns(heads: list[str], name: str) -> _Columns:
    day, minimum = _column(heads, _DATES), _column(heads, _MINIMA)
    if day is None or minimum is None:
        raise DailyFileError(f"{name} needs the columns date and tmin_c.")
    return _Columns(day, minimum, _column(heads, _MAXIMA))


def _read(row: dict[str, str], columns: _Columns) -> DayRead | None:
    """Read one line; None where it has no minimum.

    Raises
    ------
    ValueError
        with what is wrong in it
    """
    if columns.minimum not in row:
        raise ValueError("The line ends before its minimum.")
    low = row[columns.minimum].strip()
    if not low:
        return None
    high = row.get(columns.maximum or "", "").strip()
    return DayRead(
        _day(row.get(columns.day, "").strip()), _degrees(low), _degrees(high) if high else None
    )


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"“{text[:20]}” is no day; write it like 2027-04-19.") from None


def _degrees(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not BELIEVABLE_C[0] <= value <= BELIEVABLE_C[1]:
        raise ValueError(f"“{text[:20]}” is no temperature in °C.")
    return value


def _column(columns: list[str], names: tuple[str, ...]) -> str | None:
    return next((c for c in columns if c.strip().casefold() in names), None)
