"""Days, times and degrees as members read them; what belongs together never breaks over a line."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from exchange.words.kernel.phrase import NBSP, listed

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_NUMBERS = ("first", "second", "third", "fourth")
_MINUS = "\u2212"


def weekday(day: date) -> str:
    """Give "Mon"."""
    return _WEEKDAYS[day.weekday()]


def month(day: date) -> str:
    """Give "April"."""
    return _MONTHS[day.month - 1]


def day(value: date) -> str:
    """Give "Mon 19 April", tied with no-break spaces."""
    return NBSP.join((weekday(value), str(value.day), month(value)))


def day_and_year(value: date) -> str:
    """Give "Mon 19 April 2027"."""
    return f"{day(value)}{NBSP}{value.year}"


def month_and_year(value: date) -> str:
    """Give "August 2027"."""
    return f"{month(value)}{NBSP}{value.year}"


def week_of_month(monday: date) -> str:
    """Give "first week of May" or "last week of May" for the week that begins on a day."""
    if (monday + timedelta(days=7)).month != monday.month:
        return f"last week of {month(monday)}"
    return f"{_NUMBERS[(monday.day - 1) // 7]} week of {month(monday)}"


def span(first: date, last: date) -> str:
    """Give "Wed 28 to Fri 30 April", "Fri 30 April to Sun 2 May" or one day."""
    if last <= first:
        return day(first)
    if (first.year, first.month) == (last.year, last.month):
        return "{first} to {last}".format(
            first=f"{weekday(first)}{NBSP}{first.day}", last=day(last)
        )
    return f"{day(first)} to {day(last)}"


def days(values: Sequence[date]) -> str:
    """Give several days: "Sat 1, Sun 2 and Mon 3 May"; the month stands where it changes."""
    parts = []
    for place, value in enumerate(values):
        is_last = place == len(values) - 1
        changes = is_last or (values[place + 1].year, values[place + 1].month) != (
            value.year,
            value.month,
        )
        parts.append(day(value) if changes else f"{weekday(value)}{NBSP}{value.day}")
    return listed(parts)


def hour(value: time | datetime) -> str:
    """Give "4 pm", "6.30 pm", "noon" or "midnight"."""
    if (value.hour, value.minute) == (12, 0):
        return "noon"
    if (value.hour, value.minute) == (0, 0):
        return "midnight"
    half = "am" if value.hour < 12 else "pm"
    minutes = f".{value.minute:02d}" if value.minute else ""
    return f"{(value.hour - 1) % 12 + 1}{minutes}{NBSP}{half}"


def moment(value: datetime) -> str:
    """Give "Mon 26 April at 6 pm" for an instant already in the reader's zone."""
    return f"{day(value)} at {hour(value)}"


def degrees(celsius: float, step: float = 1.0) -> str:
    """Give "7 °C" or "−1.5 °C", rounded to the step [degrees C]."""
    value = round(celsius / step) * step
    text = f"{abs(value):.1f}".removesuffix(".0")
    sign = _MINUS if value < 0 else ""
    return f"{sign}{text}{NBSP}°C"
