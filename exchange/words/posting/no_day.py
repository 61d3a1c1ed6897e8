"""Sentences on parcels without a day: no way, waits for weather, not ready yet."""

from datetime import date, timedelta

from exchange.domain.growing.variety import Species
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import listed
from exchange.words.posting.posting_days import about_week

HORIZON = timedelta(days=20)
"""A day is planned at most so long before it: the strip's days after the first."""
_NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")


def lead(no_way: int, waits: int, not_ready: int, of: int, *, own: bool) -> str:
    """Count the parcels without a day by their kinds, and say which of them need the reader."""
    total = no_way + waits + not_ready
    whose = f"your {of}" if own else str(of)
    if total == 0:
        return "Every parcel that is still to go has a day."
    kinds = [
        f"{_number(count).lower()} {one if count == 1 else many}"
        for count, one, many in (
            (not_ready, "is not ready", "are not ready"),
            (waits, "waits for milder nights", "wait for milder nights"),
            (no_way, "has no way to go", "have no way to go"),
        )
        if count
    ]
    needs = "Nothing needs you." if not no_way else "Only what has no way needs you."
    said = listed(kinds)
    return f"{_number(total)} of {whose}. {said[0].upper()}{said[1:]}. {needs}"


def _number(value: int) -> str:
    return _NUMBERS[value] if value < len(_NUMBERS) else str(value)


def waits_for(limit_c: float, warm_from: date | None) -> str:
    """Give "Waits for nights over 7 °C at both ends: about the last week of May."."""
    for_what = f"Waits for nights over {dates.degrees(limit_c)} at both ends"
    if warm_from is None:
        return f"{for_what}: usual nights are never so warm."
    return f"{for_what}: about the {dates.week_of_month(warm_from)}."


LOOKED_AT = "It is looked at anew every morning."


def not_ready(ready: date, today: date) -> str:
    """Say from when it is ready and about when its day is chosen."""
    looked_for = ready - HORIZON
    if looked_for <= today:
        when = "its day is chosen as soon as one is good enough"
    else:
        when = f"its day is chosen {about_week(looked_for)}"
    return f"Ready from {dates.day(ready)}; {when}. Nothing to do."


def hurt_under(limit_c: float, species: str) -> str:
    """Name the line of a drawing: "7 °C or less: coleus waits"."""
    name = plants.kinds(Species(species)) if species != Species.OTHER else "it waits"
    waits = "it waits" if species == Species.OTHER else f"too cold for {name}"
    return f"{dates.degrees(limit_c)} or less: {waits}"
