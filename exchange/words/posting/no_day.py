"""Sentences on parcels without a day: no way, waits for weather, not ready yet."""

from datetime import date, timedelta

from exchange.domain.growing.variety import Species
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import listed

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
    """Give "Waits for usual nights over 7 °C at both ends: about the last week of May."."""
    when = f"about the {dates.week_of_month(warm_from)}" if warm_from else "they never are so warm"
    return f"Waits for usual nights over {dates.degrees(limit_c)} at both ends: {when}."


LOOKED_AT = "Looked at anew every morning."


def ready_from(ready: date) -> str:
    """Head those that become ready on a day: "Ready from Mon 26 April"."""
    return f"Ready from {dates.day(ready)}"


def told_from(ready: date, today: date, announced_days: int) -> str:
    """Say from when the days of what becomes ready then can be told.

    Parameters
    ----------
    announced_days : at most so long before posting a day is told [d]
    """
    first = ready - timedelta(days=announced_days)
    if first <= today:
        return "The day is told as soon as one is good enough."
    return f"The day is told from {dates.day(first)} on, once one is good enough."


def hurt_under(limit_c: float, species: str) -> str:
    """Name the line of a drawing: "usual nights of 7 °C or less: too cold for coleus"."""
    name = "these" if species == Species.OTHER else plants.kinds(Species(species))
    return f"usual nights of {dates.degrees(limit_c)} or less: too cold for {name}"
