"""The weather of all places in words: which nights bring frost, and whose forecast says so."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta

from exchange.words.kernel import dates
from exchange.words.kernel.phrase import NBSP, as_sentence, counted, listed
from exchange.words.weather.weather import age, source_name


def lead(frosty_places: int, places: int, frosts: Sequence[date], last: date) -> str:
    """Say at how many places and in which nights frost is likely, and from when none is.

    Parameters
    ----------
    frosts : days on which nights begin that are likely to bring frost somewhere, in order
    last : the day on which the last night looked at begins
    """
    if not frosts:
        return (
            f"No frost is likely at {counted(places, 'place', 'places')} up to {dates.day(last)}."
        )
    nights = "night" if len(frosts) == 1 else "nights"
    text = f"Frost is likely at {_of(frosty_places, places)}: {nights} of {dates.days(frosts)}"
    if frosts[-1] >= last:
        return f"{text}."
    after = frosts[-1] + timedelta(days=1)
    return f"{text}; none is likely from {dates.weekday(after)}{NBSP}{after.day} on."


def _of(some: int, places: int) -> str:
    if some == places:
        return "the one place" if places == 1 else f"all {places} places"
    return f"{some} of {places} places"


def kind_words(kind: str, places: int) -> str:
    """Give the head over places of one kind: "Frost is almost certain: 10 places"."""
    heads = {
        "certain": "Frost is almost certain",
        "likely": "Frost is likely",
        "perhaps": "Perhaps, or not at all",
        "unknown": "Nothing is known",
    }
    return f"{heads[kind]}: {counted(places, 'place', 'places')}"


def forecast_of(where: Sequence[str], source: str, issued: datetime, old: timedelta) -> str:
    """Say whose forecast is used where and how old it is; no place named means everywhere."""
    head = f"{listed(where)}: forecast of" if where else "All by the forecast of"
    moment = dates.moment(issued.replace(second=0, microsecond=0))
    return f"{head} {source_name(source)}, issued {moment}, {age(old)} ago"


def usual_only(where: Sequence[str]) -> str:
    """Say where no forecast is known; no place named means everywhere."""
    if not where:
        return "There is no forecast: the nights are the usual ones for the time of year."
    return f"{listed(where)}: no forecast, so usual nights."


def remarks(said: Mapping[str, Sequence[str]], places: int) -> list[str]:
    """Say each remark once: alone where it holds everywhere, else after the places it holds for."""
    found = []
    for text, where in said.items():
        if len(where) == places:
            found.append(as_sentence(text))
        else:
            found.append(f"{listed(list(where))}: {text[0].lower()}{as_sentence(text)[1:]}")
    return found
