"""The coming nights of one place, out of its forecast, its climate and what members heard."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta

from exchange.domain.weather.blend import HORIZON_DAYS, PUBLISHED, Skill, at_lead, lead_spread
from exchange.domain.weather.climate import (
    DEFAULT_SPREAD_K,
    Climate,
    Spot,
    UsualNight,
    climate_at,
    usual_night,
)
from exchange.domain.weather.corrected import CorrectedForecast, corrected_for
from exchange.domain.weather.ensemble import of_members
from exchange.domain.weather.forecast import Forecast, Night, Outlook, WeatherSource
from exchange.domain.weather.note import Note

BELIEVABLE_SPREADS = 5.0
"""A forecast this many spreads from the usual night is not believed (judgement)."""

_WITHOUT_FORECAST = (WeatherSource.CLIMATE, WeatherSource.NONE)


def outlook(
    place: Spot,
    forecast: Forecast | None,
    climate: Climate | None,
    span: tuple[date, int],
    now: datetime,
    skill: Skill = PUBLISHED,
) -> Outlook:
    """Give the coming nights of a place.

    Parameters
    ----------
    place : where
    forecast : for this place, or None
    climate : of the nearest station, not yet corrected for the height of the place, or None
    span : the first night and how many [nights]
    now : instant, with its zone
    skill : how good forecasts are, as published or as refitted

    Returns
    -------
    outlook : the nights known without a gap, each a predictive normal, and the notes

    Raises
    ------
    ValueError
        when the forecast is for another place
    """
    if forecast is not None and forecast.place_id != place.id:
        raise ValueError("This forecast is for another place.")
    told, notes = corrected_for(forecast, place, now)
    height = told.forecast.grid_height_m if told else None
    local = climate_at(place, climate, height) if climate else None
    notes += _notes_on_height(place, height, local)
    nights, doubts = _nights(told, local, span, skill)
    source = _source(nights)
    behind = told.forecast if told and source not in _WITHOUT_FORECAST else None
    return Outlook(
        place_id=place.id,
        nights=nights,
        source=source,
        issued_at=behind.issued_at if behind else None,
        attribution=_attribution(behind, local),
        notes=tuple(dict.fromkeys((*notes, *doubts))) if nights else _of_nothing(notes),
    )


def _of_nothing(notes: tuple[str, ...]) -> tuple[str, ...]:
    """Leave out the note that usual nights replace the forecast: there are none."""
    return (*(note for note in notes if note != Note.NO_FORECAST), Note.NOTHING)


def _notes_on_height(place: Spot, height: float | None, local: Climate | None) -> tuple[str, ...]:
    no_climate = (Note.NO_CLIMATE,) if local is None else ()
    if place.height_m is not None:
        return no_climate
    return (*no_climate, Note.NO_HEIGHT if height is None else Note.HEIGHT_FROM_FORECAST)


def _nights(
    told: CorrectedForecast | None, local: Climate | None, span: tuple[date, int], skill: Skill
) -> tuple[tuple[Night, ...], tuple[str, ...]]:
    first, count = span
    nights: list[Night] = []
    doubts: list[str] = []
    for offset in range(count):
        day = first + timedelta(days=offset)
        usual = usual_night(local, day) if local else None
        night, doubt = _night(told, usual, day, skill)
        if doubt:
            doubts.append(doubt)
        if night is not None:
            nights.append(night)
        elif nights:
            break
    return tuple(nights), tuple(doubts)


def _night(
    told: CorrectedForecast | None, usual: UsualNight | None, day: date, skill: Skill
) -> tuple[Night | None, str]:
    climatic = _usual(day, usual)
    if told is None or told.lead_days(day) > HORIZON_DAYS:
        return climatic, ""
    minimum, doubt = told.minimum(day, usual)
    if minimum is None:
        return climatic, doubt
    minimum += skill.shift_k
    if usual and abs(minimum - usual.mean_c) > BELIEVABLE_SPREADS * usual.sd_k:
        return climatic, Note.NOT_BELIEVABLE
    told_by_number = told.members.get(day, {})
    members = tuple(member + skill.shift_k for member in told_by_number.values())
    if members:
        mean, spread = of_members(members, skill.site_error_k)
        high = told.highs.get(day, usual.day_high_c if usual else mean)
        numbers = tuple(told_by_number)
        return Night(day, mean, spread, high, WeatherSource.FORECAST, members, numbers), doubt
    return _blended(told, usual, day, minimum, skill), doubt


def _blended(
    told: CorrectedForecast, usual: UsualNight | None, day: date, minimum: float, skill: Skill
) -> Night:
    lead = told.lead_days(day)
    if usual is None:
        spread = lead_spread(lead, DEFAULT_SPREAD_K, skill)
        high = told.highs.get(day, minimum)
        return Night(day, minimum, spread, high, WeatherSource.FORECAST)
    joined = at_lead(
        minimum,
        usual.mean_c,
        usual.sd_k,
        lead,
        regressed=told.forecast.regressed,
        skill=skill,
    )
    high = told.highs.get(day, usual.day_high_c)
    day_high = joined.weight * high + (1.0 - joined.weight) * usual.day_high_c
    return Night(day, joined.mean_c, joined.sd_k, day_high, WeatherSource.FORECAST)


def _usual(day: date, usual: UsualNight | None) -> Night | None:
    if usual is None:
        return None
    return Night(day, usual.mean_c, usual.sd_k, usual.day_high_c, WeatherSource.CLIMATE)


def _source(nights: tuple[Night, ...]) -> WeatherSource:
    sources = {night.source for night in nights}
    if not sources:
        return WeatherSource.NONE
    return WeatherSource.BOTH if len(sources) > 1 else sources.pop()


def _attribution(forecast: Forecast | None, local: Climate | None) -> str:
    parts = (forecast.attribution if forecast else "", local.attribution if local else "")
    return " ".join(part for part in parts if part)


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
