"""Sums of money as they are written and read: postage only, for a plant has no price here."""

import re

_SIGNS = {"GB": "£", "US": "$", "CA": "$", "AU": "$", "NZ": "$"}
_EURO = frozenset(
    {"AT", "BE", "DE", "ES", "FI", "FR", "GR", "IE", "IT", "LU", "NL", "PT", "SI", "SK"}
)
_SUM = re.compile(r"(?:[£$€]\s*)?(\d{1,6})(?:[.,](\d{1,2}))?(?:\s*[£$€])?")
_COINS = re.compile(r"(\d{1,6})\s*[pc]")


def amount(coins: int, country: str) -> str:
    """Give "£3.49"; a country whose sign is not known has none.

    Parameters
    ----------
    coins : in the smallest coin [smallest coin]
    """
    sign = "€" if country in _EURO else _SIGNS.get(country, "")
    return f"{sign}{coins // 100}.{coins % 100:02d}"


def read_amount(text: str) -> int | None:
    """Read "3.49", "£3,49", "3" or "349p"; None where it is no sum [smallest coin]."""
    text = text.strip()
    if coins := _COINS.fullmatch(text):
        return int(coins[1])
    found = _SUM.fullmatch(text)
    if found is None:
        return None
    return 100 * int(found[1]) + int((found[2] or "").ljust(2, "0"))
