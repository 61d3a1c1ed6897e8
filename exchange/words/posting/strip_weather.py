"""The weather over a posting strip in words: frosts by their dates, then the rest in a sentence."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from exchange.words.kernel import dates
from exchange.words.kernel.phrase import listed


@dataclass(frozen=True, slots=True)
class StripNight:
    """The night that begins on a day; `low_c` is its likely low [degrees C]."""

    day: date
    low_c: float
    is_forecast: bool


@dataclass(frozen=True, slots=True)
class StripNights:
    """The nights of one end, and its name."""

    where: str
    nights: tuple[StripNight, ...]

    @property
    def forecast(self) -> tuple[StripNight, ...]:
        return tuple(one for one in self.nights if one.is_forecast)

    @property
    def usual(self) -> tuple[StripNight, ...]:
        return tuple(one for one in self.nights if not one.is_forecast)

    @property
    def frosts(self) -> tuple[StripNight, ...]:
        """The nights forecast whose likely low, as it is printed, is 0 degrees or less."""
        return tuple(one for one in self.forecast if round(one.low_c) <= 0)


def in_words(sender: StripNights, receiver: StripNights) -> str:
    """Say the weather at both ends: frosts by their dates with the lowest, the rest, what is usual."""
    ends = [one for one in (sender, receiver) if one.nights]
    told = [one for one in ends if one.forecast]
    return " ".join(part for part in (*_frosts(told), _rest(told), _usual(ends)) if part)


def _frosts(ends: Sequence[StripNights]) -> list[str]:
    frosty = [one for one in ends if one.frosts]
    if len(frosty) == 2 and _days(frosty[0]) == _days(frosty[1]):
        lowest = [f"{_lowest(one.frosts)} in {one.where}" for one in frosty]
        if _lowest(frosty[0].frosts) == _lowest(frosty[1].frosts):
            lowest = [_lowest(frosty[0].frosts)]
        return [f"Frost at both ends in {_nights(frosty[0])}, down to {listed(lowest)}."]
    return [
        f"Frost in {one.where} in {_nights(one)}, down to {_lowest(one.frosts)}." for one in frosty
    ]


def _rest(ends: Sequence[StripNights]) -> str:
    mild = [night for one in ends for night in one.forecast if night not in one.frosts]
    if not mild:
        return ""
    last = max(one.day for one in mild)
    other = "other night" if any(one.frosts for one in ends) else "night"
    return f"No {other} up to {dates.day(last)} is likely to fall under {_lowest(mild)}."


def _usual(ends: Sequence[StripNights]) -> str:
    usual = [one for one in ends if one.usual]
    if not usual:
        return ""
    lows = [sum(n.low_c for n in one.usual) / len(one.usual) for one in usual]
    said = list(dict.fromkeys(map(dates.degrees, lows)))
    head = "After that nothing" if any(one.forecast for one in ends) else "Nothing"
    return f"{head} is forecast; usual lows are about {listed(said)}."


def _days(end: StripNights) -> list[date]:
    return [one.day for one in end.frosts]


def _nights(end: StripNights) -> str:
    days = _days(end)
    return f"the {'night' if len(days) == 1 else 'nights'} of {dates.days(days)}"


def _lowest(nights: Sequence[StripNight]) -> str:
    return dates.degrees(min(one.low_c for one in nights))
