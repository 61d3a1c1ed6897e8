"""What the weather services and the outlook have to say, in the members' words."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta

from exchange.domain.weather.note import Doubt
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import as_sentence, counted, listed

_FAULTS = {
    "unreachable": "the weather service could not be reached",
    "too slow": "the weather service took too long to answer",
    "refused": "the weather service refused to answer",
    "limit": "the weather service has been asked too often for now",
    "overloaded": "the weather service has trouble of its own",
    "unreadable": "the weather service answered with something that is not a forecast",
    "incomplete": "the answer of the weather service lacks the temperatures",
    "wrong units": "the weather service answered in units we did not ask for",
    "wrong place": "the weather service answered for another place",
    "out of date": "the forecast is not of these days",
    "not offered": "the weather service has nothing for this place",
    "no contact": "the weather service wants an address it can write to, and none is set",
    "no file": "the saved forecast could not be opened",
}

_LACKS = {
    "late": "the forecast begins later than asked",
    "short": "the forecast ends earlier than asked",
    "holes": "some hours are missing from the forecast",
    "twice": "some hours were given twice; the colder figure counts",
    "order": "the hours were not in order and were put in order",
    "unlikely": "some figures were beyond belief and were left out",
    "dew point": "the forecast has no dew points",
    "wind": "the forecast has no wind",
    "cloud": "the forecast has no cloud",
    "members": "some members of the ensemble have no figures",
    "member hours": "hours are missing from some members of the ensemble",
    "entries": "some entries could not be read and were left out",
    "minima": "the lowest temperatures of some six hours are missing, and their hours with them",
    "coarse": "later days are known in steps of six hours only",
    "old version": "the weather service says that this way of asking will end soon",
    "kept": "the weather service had nothing newer",
}

_DOUBTS = {
    Doubt.INCOMPLETE: "Hours are missing from the forecast of {nights}: the colder of what is known and what is usual stands.",
    Doubt.TOO_WARM: "The forecast of {nights} is too warm to be believed: what is usual stands.",
    Doubt.TOO_COLD: "The forecast of {nights} is colder than can be believed. It stands; check it elsewhere.",
}


def fault_sentence(kind: str, said: str = "") -> str:
    """Give what went wrong with a source, and what the source itself said about it."""
    sentence = as_sentence(_FAULTS[kind])
    if not said:
        return sentence
    return f"{sentence} It said: {as_sentence(said)}"


def wait_sentence(source: str, until: datetime) -> str:
    """Say that a source asked us to wait, until an instant in the reader's zone."""
    return f"{source}: the weather service asked us to wait until {dates.moment(until.replace(second=0, microsecond=0))}."


def lack_sentence(kind: str) -> str:
    """Give what an answer lacked, without capital or full stop."""
    return _LACKS[kind]


def note_sentence(note: str) -> str:
    """Give a note of an outlook as a sentence."""
    return as_sentence(note)


def doubts(found: Sequence[tuple[str, Mapping[Doubt, Sequence[date]]]]) -> tuple[str, ...]:
    """Say what is doubtful in the forecast of single nights, each kind of doubt once.

    Parameters
    ----------
    found : where ("your garden", empty on the page of one place) and which nights, by what is doubtful
    """
    said = []
    for doubt, sentence in _DOUBTS.items():
        there = [(where, nights[doubt]) for where, nights in found if doubt in nights]
        if there:
            parts = [
                f"{dates.days(days)} ({where})" if where else dates.days(days)
                for where, days in there
            ]
            one = sum(len(days) for _where, days in there) == 1
            said.append(sentence.format(nights=f"the night{'' if one else 's'} of {listed(parts)}"))
    return tuple(said)


def age(value: timedelta) -> str:
    """Give "less than an hour", "3 hours" or "2 days"."""
    hours = max(0, int(value / timedelta(hours=1)))
    if hours < 1:
        return "less than an hour"
    if hours < 48:
        return counted(hours, "hour", "hours")
    return counted(hours // 24, "day", "days")


def source_name(source: str) -> str:
    """Name a source within a sentence: "Open-Meteo", "a saved file"."""
    return f"a {source}" if source == "saved file" else source


def forecast_sentence(source: str, issued_at: datetime, old: timedelta, *, expired: bool) -> str:
    """Say whose forecast it is, when it was issued (in the reader's zone) and how old it is."""
    sentence = f"Forecast of {source_name(source)}, issued {dates.moment(issued_at.replace(second=0, microsecond=0))}, {age(old)} ago."
    if expired:
        return f"{sentence} It is older than it should be."
    return sentence


def without_forecast(*, known: bool) -> str:
    """Say what the nights rest on where there is no forecast."""
    if known:
        return "No forecast: the nights are the usual ones for the time of year."
    return "Neither a forecast nor what is usual is known here, so nothing is said of the cold."
