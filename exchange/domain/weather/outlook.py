"""The coming nights of one place, out of its forecast, its climate and what members heard."""

import math
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta

from exchange.domain.weather.blend import (
    HORIZON_DAYS,
    PUBLISHED,
    Skill,
    at_lead,
    lead_spread,
    of_members,
)
from exchange.domain.weather.climate import (
    DEFAULT_SPREAD_K,
    Climate,
    Spot,
    UsualNight,
    climate_at,
    usual_night,
)
from exchange.domain.weather.corrected import CorrectedForecast, ToldNight, corrected_for
from exchange.domain.weather.forecast import Forecast, Night, Outlook, WeatherSource
from exchange.domain.weather.note import Doubt, Note

BELIEVABLE_SPREADS = 5.0
"""A forecast this many spreads warmer than the usual night is not believed; one as much colder stands, and is to
be checked (judgement)."""

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
    nights = _nights(told, local, span, skill)
    source = _source(nights)
    behind = told.forecast if told and source not in _WITHOUT_FORECAST else None
    return Outlook(
        place_id=place.id,
        nights=nights,
        source=source,
        issued_at=behind.issued_at if behind else None,
        attribution=_attribution(behind, local),
        notes=notes if nights else _of_nothing(notes),
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
) -> tuple[Night, ...]:
    first, count = span
    nights: list[Night] = []
    for offset in range(count):
        day = first + timedelta(days=offset)
        usual = usual_night(local, day) if local else None
        night = _night(told, usual, day, skill)
        if night is not None:
            nights.append(night)
        elif nights:
            break
    return tuple(nights)


def _night(
    told: CorrectedForecast | None, usual: UsualNight | None, day: date, skill: Skill
) -> Night | None:
    climatic = _usual(day, usual)
    if told is None or told.lead_days(day) > HORIZON_DAYS:
        return climatic
    said = told.night(day)
    if said is None:
        return _doubted(climatic, Doubt.INCOMPLETE) if told.reaches(day) else climatic
    said = replace(
        said,
        minimum_c=said.minimum_c + skill.shift_k,
        members={number: low + skill.shift_k for number, low in said.members.items()},
    )
    if not said.whole:
        return _incomplete(told, usual, day, said, skill)
    reach = BELIEVABLE_SPREADS * usual.sd_k if usual else math.inf
    away = said.minimum_c - usual.mean_c if usual else 0.0
    if away > reach:
        return _doubted(climatic, Doubt.TOO_WARM)
    if said.members:
        night = _of_members(told, usual, day, said, skill)
    else:
        night = _blended(told, usual, day, said.minimum_c, skill)
    return _doubted(night, Doubt.TOO_COLD) if away < -reach else night


def _doubted(night: Night | None, doubt: Doubt) -> Night | None:
    return None if night is None else replace(night, doubt=doubt)


def _incomplete(
    told: CorrectedForecast, usual: UsualNight | None, day: date, said: ToldNight, skill: Skill
) -> Night | None:
    """Give a night of which hours or members are missing: the colder mean, the usual spread.

    With that spread no mean colder than usual makes any frost less likely than it usually is.
    """
    climatic = _usual(day, usual)
    if climatic is None or usual is None:
        return None
    known_c = said.minimum_c
    if not told.ensemble:
        known_c = _blended(told, usual, day, known_c, skill).mean_c
    if known_c < climatic.mean_c:
        climatic = replace(climatic, mean_c=known_c, source=WeatherSource.FORECAST)
    return climatic if told.ends_in(day) else _doubted(climatic, Doubt.INCOMPLETE)


def _of_members(
    told: CorrectedForecast, usual: UsualNight | None, day: date, said: ToldNight, skill: Skill
) -> Night:
    members, numbers = tuple(said.members.values()), tuple(said.members)
    mean, spread = of_members(members, skill.site_error_k)
    high = told.highs.get(day, usual.day_high_c if usual else mean)
    return Night(day, mean, spread, high, WeatherSource.FORECAST, members, numbers)


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
