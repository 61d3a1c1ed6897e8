"""Where plants should stand in the nights after they come, said once for nights in a row."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from exchange.words.kernel import dates

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True, slots=True)
class StandingNights:
    """Nights in a row in which they stand in one place: "in the frost-free greenhouse"."""

    where: str
    days: tuple[date, ...]


def standing(nights: Sequence[StandingNights]) -> tuple[str, ...]:
    """Give "In the frost-free greenhouse, all five nights", or each place with its nights."""
    if len(nights) == 1:
        (only,) = nights
        return (f"{_capital(only.where)}, {_all_nights(len(only.days))}",)
    return tuple(
        f"{_capital(one.where)}, {dates.span(one.days[0], one.days[-1])}" for one in nights
    )


def _all_nights(count: int) -> str:
    if count == 1:
        return "that night"
    if count == 2:
        return "both nights"
    return f"all {_NUMBERS[count] if count < len(_NUMBERS) else count} nights"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
