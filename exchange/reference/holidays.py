"""Public holidays of a place, under labels of our own."""

from datetime import date, timedelta

import holidays as package

KNOWN_UNTIL = 2028
"""Last year for which the British dates were checked against the official list."""

_SUBSTITUTE = " (observed)"
_LABELS = {
    "May Day": "Early May bank holiday",
    "Spring Bank Holiday": "Spring bank holiday",
    "Late Summer Bank Holiday": "Summer bank holiday",
    "Summer Bank Holiday": "Summer bank holiday",
    "New Year Holiday": "2 January",
    "Saint Andrew's Day": "St Andrew's Day",
    "Saint Patrick's Day": "St Patrick's Day",
    "Saint Brigid's Day": "St Brigid's Day",
    "Saint Stephen's Day": "St Stephen's Day",
    "Battle of the Boyne": "12 July holiday",
    "May Bank Holiday": "May holiday",
    "June Bank Holiday": "June holiday",
    "August Bank Holiday": "August holiday",
    "October Bank Holiday": "October holiday",
    "Pentecost": "Whit Sunday",
    "Pentecost Monday": "Whit Monday",
    "Second Day of Christmas": "Second Christmas Day",
    "Juneteenth National Independence Day": "Juneteenth",
    "Labor Day": "Labor Day",
}


class SubdivisionNeededError(Exception):
    """The holidays of this country differ from part to part, and no part was given."""


def holidays_of(country: str, subdivision: str, first: date, last: date) -> dict[date, str]:
    """Give the public holidays from the first to the last day, both counted, in order.

    Parameters
    ----------
    country : ISO 3166-1 alpha-2 code
    subdivision : part of the country, for example "SCT" or "OR"; needed in the United Kingdom

    Returns
    -------
    labels : by day; empty for a country the package does not know

    Raises
    ------
    SubdivisionNeededError
        for the United Kingdom without its part, since the days common to all are too few
    """
    if country == "GB" and not subdivision:
        raise SubdivisionNeededError("Say which part of the United Kingdom the place lies in.")
    if country not in package.list_supported_countries():
        return {}
    years = range(first.year, last.year + 1)
    known = package.country_holidays(
        country,
        subdiv=_known_part(country, subdivision),
        years=years,
        expand=False,
        observed=True,
        language=_english(country),
    )
    return {day: _label(known[day]) for day in sorted(known.keys()) if first <= day <= last}


def closures_of(country: str, subdivision: str, first: date, last: date) -> dict[date, str]:
    """Give the days on which the post is likely to rest.

    The holidays, and in Ireland also the working day after one that falls on a weekend (common
    practice, no source). A circle edits its own closures.
    """
    closed = holidays_of(country, subdivision, first, last)
    if country != "IE":
        return closed
    before = holidays_of(country, subdivision, first - timedelta(days=7), last)
    for day, label in before.items():
        if day.weekday() < 5:
            continue
        stands_in = day + timedelta(days=7 - day.weekday())
        while stands_in in closed or stands_in in before:
            stands_in += timedelta(days=1)
        if first <= stands_in <= last:
            closed[stands_in] = f"day after {label}"
    return dict(sorted(closed.items()))


def _known_part(country: str, subdivision: str) -> str | None:
    parts = package.list_supported_countries()[country]
    return subdivision if subdivision in parts else None


def _english(country: str) -> str | None:
    languages = package.list_localized_countries().get(country, [])
    return next((tag for tag in ("en_GB", "en_US", "en_IE") if tag in languages), None)


def _label(name: str) -> str:
    whole = name.split("; ", maxsplit=1)[0]
    plain = whole.removesuffix(_SUBSTITUTE)
    label = _LABELS.get(plain, plain)
    return f"{label} (day in lieu)" if plain != whole else label
