"""Frost notes laid over an outlook: they make nights colder, never warmer."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from exchange.domain.weather.forecast import Night, Outlook, WeatherSource
from exchange.domain.weather.note import Note


def with_notes(outlook: Outlook, minima: Mapping[date, float]) -> Outlook:
    """Give the outlook with what members heard of single nights.

    A night whose expected minimum lies above the note is moved down to it whole, with its spread and
    its ensemble members, so that no temperature becomes less likely to be undercut. A milder note
    changes nothing.

    Parameters
    ----------
    outlook : with nights, from forecast or climate
    minima : by the day on which the night begins [degrees C]
    """
    nights = tuple(_colder(night, minima.get(night.day)) for night in outlook.nights)
    if nights == outlook.nights:
        return outlook
    sources = {night.source for night in nights}
    source = WeatherSource.BOTH if len(sources) > 1 else sources.pop()
    return replace(outlook, nights=nights, source=source, notes=(*outlook.notes, Note.NOTED))


def _colder(night: Night, minimum_c: float | None) -> Night:
    if minimum_c is None or minimum_c >= night.mean_c:
        return night
    shift = minimum_c - night.mean_c
    return replace(
        night,
        mean_c=minimum_c,
        source=WeatherSource.FORECAST,
        members=tuple(member + shift for member in night.members),
    )
