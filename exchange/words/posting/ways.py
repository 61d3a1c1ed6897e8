"""Ways of sending in the members' words: how soon they come, and what they cost."""

from collections.abc import Sequence
from datetime import time

from exchange.words.kernel.areas import country_words
from exchange.words.kernel.dates import hour
from exchange.words.kernel.money import amount
from exchange.words.kernel.phrase import NBSP

_DAYS = ("next day", "second day", "third day")


def odds(weights: Sequence[float]) -> str:
    """Give "next day 78, second day 15, third day 4, later 3 in 100", counted in delivery days."""
    whole = sum(weights)
    if not whole:
        return "the same day"
    shares = in_hundred(weights)
    parts = [f"{name}{NBSP}{share}" for name, share in zip(_DAYS, shares[:3], strict=False)]
    if len(shares) > 3:
        parts.append(f"later{NBSP}{sum(shares[3:])}")
    return f"{', '.join(parts)} in{NBSP}100"


def in_hundred(weights: Sequence[float]) -> list[int]:
    """Give whole shares of a hundred that add up to it, the largest remainders rounded up."""
    whole = sum(weights)
    exact = [round(100 * one / whole, 6) for one in weights]
    shares = [int(one) for one in exact]
    order = sorted(range(len(exact)), key=lambda at: (shares[at] - exact[at], at))
    for at in order[: 100 - sum(shares)]:
        shares[at] += 1
    return shares


def postage(coins: int | None, country: str) -> str:
    """Give "£3.49", or that no tariff was typed in."""
    return "not typed in" if coins is None else amount(coins, country)


def cut_off(hours: float) -> str:
    """Give "by 4 pm"."""
    minutes = min(round(hours * 60), 24 * 60 - 1)
    return f"by {hour(time(minutes // 60, minutes % 60))}"


def country(code: str) -> str:
    """Give "Ireland"; a way without a country is used everywhere."""
    return country_words(code)
